import type { PlanNote, PlanRow } from "../../6-report/plan.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { densityWords, durationWords, percentWords } from "../../core/words.js";
import { type Candidates, type Choice, leastBy, linesOf, withinTime } from "./choice.js";
import { comparedDetailMm, photoIsCoarse, tonesAt } from "./held-tones.js";
import { kneeOf } from "./knee.js";

/** Overdrive from which lines count as overlapping rather than touching. */
const OVERLAPPING = 1.05;

/** Tones that two rows must differ by for a word about it. */
const WORTH_A_WORD = 1;

/**
 * The quickest density that meets the limits; where no number of tones is asked for, the knee: the cheapest density after
 * which another doubling of the time adds less than the stated share of held tones.
 */
export function choosePhoto(candidates: Candidates): Choice {
  const { options, rows } = candidates;
  const detailMm = options.tones?.detailMm ?? comparedDetailMm(rows[0]);
  const held = (row: PlanRow): number => tonesAt(row, detailMm).held;
  const allowed = withinTime(rows, options);
  const picked =
    allowed.length === 0
      ? tooSlow(candidates)
      : options.tones
        ? enoughTones(candidates, allowed, options.tones.count, detailMm)
        : atKnee(candidates, allowed, detailMm);
  const { row } = picked;
  return {
    ...picked,
    reason: [picked.reason, harmWords(candidates, row), materialWords(candidates, row)]
      .filter(Boolean)
      .join(" "),
    whatWouldChangeIt: changes(candidates, row, detailMm),
    notes: [
      ...sizeNotes(rows, row),
      ...fallNotes(candidates, held, detailMm),
      ...elsewhereNotes(rows, row, detailMm),
    ],
  };
}

type Picked = Pick<Choice, "row" | "meetsLimits" | "reason">;

function tooSlow({ options, rows }: Candidates): Picked {
  const row = leastBy(rows, ({ seconds }) => seconds);
  return {
    row,
    meetsLimits: false,
    reason: `Nothing fits into ${options.minutes} min: even ${linesOf(row)} takes ${durationWords(row.seconds)}.`,
  };
}

function enoughTones(
  { rows, options }: Candidates,
  allowed: readonly PlanRow[],
  count: number,
  detailMm: number,
): Picked {
  const { minutes } = options;
  const held = (row: PlanRow): number => tonesAt(row, detailMm).held;
  const enough = allowed.filter((row) => held(row) >= count);
  if (enough.length > 0) {
    const row = leastBy(enough, ({ seconds }) => seconds);
    return {
      row,
      meetsLimits: true,
      reason: `${linesOf(row)} is the quickest (${durationWords(row.seconds)}) that holds ${count} tones in a ${detailMm} mm detail: it holds ${held(row).toFixed(1)}.`,
    };
  }
  const row = leastBy(allowed, (each) => -held(each));
  const slower = rows.find((each) => held(each) >= count);
  return {
    row,
    meetsLimits: false,
    reason: [
      `No density ${minutes === undefined ? "compared" : `within ${minutes} min`} holds ${count} tones in a ${detailMm} mm detail; ${linesOf(row)} comes nearest with ${held(row).toFixed(1)} in ${durationWords(row.seconds)}.`,
      ...(slower
        ? [
            `With more time ${linesOf(slower)} would: ${held(slower).toFixed(1)} in ${durationWords(slower.seconds)}.`,
          ]
        : []),
    ].join(" "),
  };
}

function atKnee({ options }: Candidates, allowed: readonly PlanRow[], detailMm: number): Picked {
  const { gain, minutes } = options;
  const offers = allowed.map((row) => ({ seconds: row.seconds, tones: tonesAt(row, detailMm).held }));
  const knee = kneeOf(offers, gain);
  const row = allowed[knee];
  const holds = `It holds ${offers[knee].tones.toFixed(1)} tones in a ${detailMm} mm detail and takes ${durationWords(row.seconds)}.`;
  const last = knee === allowed.length - 1;
  const why = last
    ? `${linesOf(row)} is the highest density ${minutes === undefined ? "compared" : `within ${minutes} min`}, and up to it every doubling of the time adds at least ${percentWords(gain)} of held tones.`
    : `${linesOf(row)} is the quickest density from which twice the time would add less than ${percentWords(gain)} to the tones held.`;
  return { row, meetsLimits: true, reason: `${why} ${holds}` };
}

/** What comes with the choice and should not be found out on the work. */
function harmWords({ material }: Candidates, { gapMm, charRisk }: PlanRow): string {
  const harms = [
    gapMm > 0 && "its lines leave gaps",
    charRisk === "line centres" && "solid parts char on the centres of its lines",
    charRisk === "everywhere" && "solid parts char",
  ].filter((harm) => typeof harm === "string");
  if (harms.length === 0) return "";
  const remedy =
    harms.length > 1 || gapMm === 0 ? "less power or more lines avoid it" : "more lines close them";
  return `Mind that on ${material.name} ${harms.join(", and ")}: ${remedy}.`;
}

/** Why this material asks for more or for less than the matched density. */
function materialWords({ lens, material, rows }: Candidates, row: PlanRow): string {
  const matched = densityWords(Math.round(linesPerInchFromPitchMm(lens.spot.acrossMm)));
  const dense = rows.filter(({ linesPerInch }) => linesPerInch > row.linesPerInch);
  if (material.shape === "steep") {
    return `This material (${material.name}) is steep, there and then gone: where lines overlap, a small change of dose shifts whole tones, so density beyond the matched ${matched} buys little that holds.`;
  }
  if (row.overdrive > OVERLAPPING && dense.length > 0) {
    return `This material (${material.name}) is gradual: lines that overlap add up to tones in between, so that it pays to go beyond the matched ${matched}.`;
  }
  return "";
}

function changes({ options, rows }: Candidates, row: PlanRow, detailMm: number): string[] {
  const words: string[] = [];
  const { held, nominal } = tonesAt(row, detailMm);
  const denser = rows.filter(({ linesPerInch }) => linesPerInch > row.linesPerInch);
  const more = denser.find((each) => tonesAt(each, detailMm).held > held);
  const before = [...rows].reverse().find(({ linesPerInch }) => linesPerInch < row.linesPerInch);
  if (more) {
    words.push(
      `${options.minutes !== undefined && more.seconds <= 60 * options.minutes ? "More of the time allowed" : "More time"}: ${linesOf(more)} takes ${durationWords(more.seconds)} and holds ${tonesAt(more, detailMm).held.toFixed(1)} tones.`,
    );
  } else if (denser.length > 0) {
    words.push("More time would not: no denser one holds more tones.");
  }
  if (denser.length > 0) {
    const steadier = leastBy(denser, (each) => -tonesAt(each, detailMm).nominal);
    const tones = tonesAt(steadier, detailMm);
    if (tones.nominal > nominal && tones.nominal - tones.held > WORTH_A_WORD) {
      words.push(
        `A steadier dose than ±${percentWords(options.doseSpread)}: without any wandering this density carries ${nominal.toFixed(1)} tones, ${densityWords(steadier.linesPerInch)} carries ${tones.nominal.toFixed(1)}.`,
      );
    }
  }
  if (before) {
    words.push(
      `Less time: ${linesOf(before)} takes ${durationWords(before.seconds)} and holds ${tonesAt(before, detailMm).held.toFixed(1)} tones.`,
    );
  }
  if (!options.tones) {
    words.push(
      `Another measure of enough: --gain sets what a doubling must add (here ${percentWords(options.gain)}), --tones 12@0.25mm asks for a number.`,
    );
  }
  return words;
}

/** That the photo's own pixels bind, so that more density has nothing to show. */
function sizeNotes(rows: readonly PlanRow[], row: PlanRow): PlanNote[] {
  const { photoLpPerMm, limitedBy } = row.detail;
  if (photoLpPerMm === undefined) return [];
  const bound = rows.find(({ detail }) => detail.limitedBy === "photo");
  const pxPerMm = (2 * photoLpPerMm).toFixed(1);
  if (photoIsCoarse(row)) {
    return [
      {
        code: "photo-too-small",
        message: `The photo is too small to profit: ${pxPerMm} pixels per mm of work cannot show a 0.25 mm detail, so densities are compared at ${comparedDetailMm(row)} mm. A larger photo or a smaller piece would make more density worth while.`,
      },
    ];
  }
  if (!bound || (limitedBy !== "photo" && bound.linesPerInch <= row.linesPerInch)) return [];
  return [
    {
      code: "photo-too-small",
      message: `From ${linesOf(bound)} up the photo itself (${pxPerMm} pixels per mm) limits the detail: more lines refine tones only.`,
    },
  ];
}

/** That details of other sizes hold fewer tones at the choice than at a lower density. */
function elsewhereNotes(rows: readonly PlanRow[], row: PlanRow, detailMm: number): PlanNote[] {
  const lower = rows.filter(({ linesPerInch }) => linesPerInch < row.linesPerInch);
  const sides = (row.tonalResolution ?? [])
    .map((tones) => tones.detailMm)
    .filter((side) => side !== detailMm);
  const losses = sides.flatMap((side) => {
    if (lower.length === 0) return [];
    const best = leastBy(lower, (each) => -tonesAt(each, side).held);
    const [before, now] = [tonesAt(best, side).held, tonesAt(row, side).held];
    if (before - now < WORTH_A_WORD) return [];
    return [
      `one of ${side} mm holds ${now.toFixed(1)} where ${densityWords(best.linesPerInch)} holds ${before.toFixed(1)}`,
    ];
  });
  if (losses.length === 0) return [];
  return [
    {
      code: "held-tones-fall",
      message: `The choice is for details of ${detailMm} mm. Others lose by it: ${losses.join("; ")}. --tones asks for a detail of another size.`,
    },
  ];
}

/** That held tones fall with density, where they do, and why. */
function fallNotes(
  { material, rows, options }: Candidates,
  held: (row: PlanRow) => number,
  detailMm: number,
): PlanNote[] {
  const best = leastBy(rows, (row) => -held(row));
  const worst = leastBy(
    rows.filter(({ linesPerInch }) => linesPerInch >= best.linesPerInch),
    held,
  );
  if (held(best) - held(worst) < WORTH_A_WORD) return [];
  const fall = `held tones in a ${detailMm} mm detail fall from ${held(best).toFixed(1)} at ${densityWords(best.linesPerInch)} to ${held(worst).toFixed(1)} at ${linesOf(worst)}`;
  return material.shape === "steep"
    ? [
        {
          code: "steep-density-worse",
          message: `More density makes it worse on ${material.name}: ${fall}, since on a steep material overlapping lines turn a dose that wanders by ±${percentWords(options.doseSpread)} into a shift of whole tones.`,
        },
      ]
    : [
        {
          code: "held-tones-fall",
          message: `More density is not better throughout: ${fall}, since overlapping lines pass a dose that wanders by ±${percentWords(options.doseSpread)} on to every tone alike, or a coarser halftone is needed to hide it.`,
        },
      ];
}
