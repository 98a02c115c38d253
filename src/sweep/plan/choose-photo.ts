import type { PlanRow } from "../../6-report/plan.js";
import { type Change, changedBy } from "../../6-report/words/plan-changes.js";
import { type Note, noted } from "../../6-report/words/plan-notes.js";
import { because, type Reason } from "../../6-report/words/plan-reasons.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type Candidates, type Choice, minBy, withinTime } from "./choice.js";
import { blurringPart, comparedDetailMm, photoIsCoarse, tonesAt } from "./held-tones.js";
import { kneeOf } from "./knee.js";

/** From this overdrive, lines count as overlapping and not as touching. */
const OVERLAPPING = 1.05;

/** Minimum difference in tones between two rows that is mentioned. */
const WORTH_A_WORD = 1;

/**
 * The quickest density that meets the limits. Without a requested number of tones it is the knee: the cheapest density after which
 * another doubling of the time adds less than the given share of held tones.
 */
export function choosePhoto(candidates: Candidates): Choice {
  const { options, rows } = candidates;
  const detailMm = options.tones?.detailMm ?? comparedDetailMm(rows[0]);
  const allowed = withinTime(rows, options);
  const picked =
    allowed.length === 0
      ? tooSlow(candidates)
      : options.tones
        ? enoughTones(candidates, allowed, options.tones)
        : atKnee(candidates, allowed, detailMm);
  const { row } = picked;
  return {
    ...picked,
    reasons: [...picked.reasons, ...harms(candidates, row), ...materialReasons(candidates, row)],
    changes: changesOf(candidates, row, detailMm),
    notes: [
      ...sizeNotes(rows, row),
      ...fallNotes(candidates, detailMm),
      ...elsewhereNotes(rows, row, detailMm),
    ],
  };
}

type Picked = Pick<Choice, "row" | "meetsLimits" | "reasons">;

/** A row with the tones that it holds in a detail, as data for sentences. */
const holding = (row: PlanRow, detailMm: number) => ({ ...row, held: tonesAt(row, detailMm).held });

function tooSlow({ options, rows }: Candidates): Picked {
  const row = minBy(rows, ({ seconds }) => seconds);
  const reason = because("nothing-in-time", { ...row, minutes: options.minutes ?? 0 });
  return { row, meetsLimits: false, reasons: [reason] };
}

function enoughTones(
  { rows, options: { minutes } }: Candidates,
  allowed: readonly PlanRow[],
  wanted: { readonly count: number; readonly detailMm: number },
): Picked {
  const { count, detailMm } = wanted;
  const held = (row: PlanRow): number => tonesAt(row, detailMm).held;
  const enough = allowed.filter((row) => held(row) >= count);
  if (enough.length > 0) {
    const row = minBy(enough, ({ seconds }) => seconds);
    return {
      row,
      meetsLimits: true,
      reasons: [because("enough-tones", { ...holding(row, detailMm), ...wanted })],
    };
  }
  const row = minBy(allowed, (each) => -held(each));
  const slower = rows.find((each) => held(each) >= count);
  return {
    row,
    meetsLimits: false,
    reasons: [
      because("too-few-tones", { ...holding(row, detailMm), ...wanted, minutes }),
      ...(slower ? [because("tones-with-more-time", holding(slower, detailMm))] : []),
    ],
  };
}

function atKnee({ options }: Candidates, allowed: readonly PlanRow[], detailMm: number): Picked {
  const { gain, minutes } = options;
  const offers = allowed.map((row) => ({ seconds: row.seconds, tones: tonesAt(row, detailMm).held }));
  const knee = kneeOf(offers, gain);
  const row = allowed[knee];
  const why = knee === allowed.length - 1 ? "highest-density" : "knee";
  return {
    row,
    meetsLimits: true,
    reasons: [
      because(why, { ...row, gain, minutes }),
      because("tones-held", { ...row, held: offers[knee].tones, detailMm }),
    ],
  };
}

/** Harmful effects of the choice that the user should know before engraving. */
function harms({ material }: Candidates, { gapMm, charRisk }: PlanRow): Reason[] {
  const leavesGaps = gapMm > 0;
  if (!leavesGaps && (charRisk === undefined || charRisk === "none")) return [];
  return [because("harms", { material: material.name, leavesGaps, charRisk })];
}

/** Why this material needs more or less than the matched density. */
function materialReasons({ lens, material, rows }: Candidates, row: PlanRow): Reason[] {
  const told = {
    material: material.name,
    matched: Math.round(linesPerInchFromPitchMm(lens.spot.acrossMm)),
  };
  if (material.shape === "steep") {
    const { toneShift } = row;
    return row.overdrive > OVERLAPPING && toneShift !== undefined
      ? [because("steep-overlap", { ...told, toneShift })]
      : [because("steep-material", told)];
  }
  const hasDenser = rows.some(({ linesPerInch }) => linesPerInch > row.linesPerInch);
  return row.overdrive > OVERLAPPING && hasDenser ? [because("gradual-material", told)] : [];
}

function changesOf({ options, rows, spread, lens }: Candidates, row: PlanRow, detailMm: number): Change[] {
  const { held, nominal } = tonesAt(row, detailMm);
  const { minutes, gain } = options;
  const denser = rows.filter(({ linesPerInch }) => linesPerInch > row.linesPerInch);
  const more = denser.find((each) => tonesAt(each, detailMm).held > held);
  const before = [...rows].reverse().find(({ linesPerInch }) => linesPerInch < row.linesPerInch);
  const changes: Change[] = [];
  if (more) {
    const allowed = minutes !== undefined && more.seconds <= 60 * minutes;
    changes.push(changedBy("more-time", { ...holding(more, detailMm), allowed }));
  } else if (denser.length > 0) {
    changes.push(changedBy("no-more-time", {}));
  }
  if (denser.length > 0) {
    const steadier = minBy(denser, (each) => -tonesAt(each, detailMm).nominal);
    const there = tonesAt(steadier, detailMm);
    const cause = blurringPart(spread, lens, steadier, detailMm);
    if (cause && there.nominal > nominal && there.nominal - there.held > WORTH_A_WORD) {
      const { linesPerInch } = steadier;
      const told = { cause, linesPerInch, nominal, nominalThere: there.nominal };
      changes.push(changedBy("steadier-dose", told));
    }
  }
  if (before) changes.push(changedBy("less-time", holding(before, detailMm)));
  if (!options.tones) changes.push(changedBy("other-measure", { gain }));
  return changes;
}

/** A note if the photo's own pixels are the limit, so that more density shows no more detail. */
function sizeNotes(rows: readonly PlanRow[], row: PlanRow): Note[] {
  const { photoLpPerMm, limitedBy } = row.detail;
  if (photoLpPerMm === undefined) return [];
  const pxPerMm = 2 * photoLpPerMm;
  if (photoIsCoarse(row)) {
    return [noted("photo-too-small", { pxPerMm, comparedMm: comparedDetailMm(row) })];
  }
  const bound = rows.find(({ detail }) => detail.limitedBy === "photo");
  if (!bound || (limitedBy !== "photo" && bound.linesPerInch <= row.linesPerInch)) return [];
  return [noted("photo-too-small", { pxPerMm, fromLinesPerInch: bound.linesPerInch })];
}

/** A note if details of other sizes hold fewer tones at the choice than at a lower density. */
function elsewhereNotes(rows: readonly PlanRow[], row: PlanRow, detailMm: number): Note[] {
  const lower = rows.filter(({ linesPerInch }) => linesPerInch < row.linesPerInch);
  const sides = (row.tonalResolution ?? [])
    .map((tones) => tones.detailMm)
    .filter((side) => side !== detailMm);
  const losses = sides.flatMap((side) => {
    if (lower.length === 0) return [];
    const best = holding(
      minBy(lower, (each) => -tonesAt(each, side).held),
      side,
    );
    const { held } = tonesAt(row, side);
    return best.held - held < WORTH_A_WORD ? [] : [{ detailMm: side, held, best }];
  });
  return losses.length === 0 ? [] : [noted("held-tones-fall", { detailMm, losses })];
}

/** A note if held tones fall with density, and why. */
function fallNotes({ material, rows, spread, lens }: Candidates, detailMm: number): Note[] {
  const held = (row: PlanRow): number => tonesAt(row, detailMm).held;
  const bestRow = minBy(rows, (row) => -held(row));
  const beyond = rows.filter(({ linesPerInch }) => linesPerInch >= bestRow.linesPerInch);
  const worstRow = minBy(beyond, held);
  const [best, worst] = [bestRow, worstRow].map((row) => holding(row, detailMm));
  if (best.held - worst.held < WORTH_A_WORD) return [];
  const { method } = worstRow;
  // A change of method is no effect of density.
  if (method !== undefined && method !== bestRow.method) {
    return [noted("held-tones-fall", { detailMm, best, worst, method })];
  }
  const cause = blurringPart(spread, lens, worstRow, detailMm);
  const fall = { detailMm, best, worst, ...(cause && { cause }) };
  return material.shape === "steep"
    ? [noted("steep-density-worse", { ...fall, material: material.name })]
    : [noted("held-tones-fall", fall)];
}
