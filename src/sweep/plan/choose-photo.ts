import type { PlanRow } from "../../6-report/plan.js";
import { type Change, changedBy } from "../../6-report/words/plan-changes.js";
import { type Note, noted } from "../../6-report/words/plan-notes.js";
import { because, type Reason } from "../../6-report/words/plan-reasons.js";
import { NOT_NOTICEABLE } from "../../core/physics/lightness.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type Choice, minBy, type PhotoCandidates, withinTime } from "./choice.js";
import { blurringPart, COMPARED_MM, comparedDetailMm, photoIsCoarse, tonesAt } from "./held-tones.js";
import type { WorthCurve } from "./useful-tones.js";

/** From this overdrive, lines count as overlapping and not as touching. */
const OVERLAPPING = 1.05;

/** Minimum difference in tones between two rows that is mentioned. */
const WORTH_A_WORD = 1;

/** Of densities within this ratio, one with noticeably less error is taken. */
const NEARLY_SAME = 1.06;

/**
 * The quickest density that meets the limits. Without a requested number of tones it is the one nearest to the density that is
 * worth its time: the cheapest after which twice the time adds less than the given share of useful tones.
 */
export function choosePhoto(candidates: PhotoCandidates): Choice {
  const { options, rows } = candidates;
  const allowed = withinTime(rows, options);
  const picked =
    allowed.length === 0
      ? tooSlow(candidates)
      : options.tones
        ? enoughTones(candidates, allowed, options.tones)
        : candidates.worth
          ? nearestToWorth(candidates, allowed, candidates.worth)
          : onlyDensity(allowed[0]);
  const { row } = picked;
  return {
    ...picked,
    reasons: [
      ...picked.reasons,
      ...errorReasons(allowed.length > 0 ? allowed : rows, row),
      ...harms(candidates, row),
      ...materialReasons(candidates, row),
    ],
    changes: changesOf(candidates, row),
    notes: [...sizeNotes(rows, row), ...fallNotes(candidates)],
  };
}

type Picked = Pick<Choice, "row" | "meetsLimits" | "reasons">;

/** A row with the tones that it holds in a detail, as data for sentences. */
const holding = (row: PlanRow, detailMm: number) => ({ ...row, held: tonesAt(row, detailMm).held });

const usefulOf = ({ usefulTones = 0 }: PlanRow): number => usefulTones;

/** A row with its useful tones, as data for sentences. */
const counting = (row: PlanRow) => ({ ...row, useful: usefulOf(row) });

function tooSlow({ options, rows }: PhotoCandidates): Picked {
  const row = minBy(rows, ({ seconds }) => seconds);
  const reason = because("nothing-in-time", { ...row, minutes: options.minutes ?? 0 });
  return { row, meetsLimits: false, reasons: [reason] };
}

function enoughTones(
  { rows, options: { minutes } }: PhotoCandidates,
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

const onlyDensity = (row: PlanRow): Picked => ({
  row,
  meetsLimits: true,
  reasons: [because("only-density", row)],
});

/** Of the rows allowed, the nearest to the density that is worth its time. Rows that char are left out if others remain. */
function nearestToWorth(
  { rows, options }: PhotoCandidates,
  allowed: readonly PlanRow[],
  worth: WorthCurve,
): Picked {
  const { gain, minutes } = options;
  const { linesPerInch: worthLinesPerInch, isCapped } = worth.worthAt(gain);
  const distance = ({ linesPerInch }: PlanRow): number =>
    Math.abs(Math.log(linesPerInch / worthLinesPerInch));
  const clean = allowed.filter(({ charRisk = "none" }) => charRisk === "none");
  const offered = clean.length > 0 ? clean : allowed;
  const nearest = minBy(offered, distance);
  const row = betterBeside(nearest, offered);
  const nearestAllowed = minBy(allowed, distance);
  const told = {
    ...{ worthLinesPerInch, gain, isCapped },
    ...(row !== nearest && { beside: nearest.linesPerInch }),
    ...(nearest !== nearestAllowed && { chars: nearestAllowed.linesPerInch }),
    ...(nearestAllowed !== minBy(rows, distance) && { minutes }),
  };
  return {
    row,
    meetsLimits: true,
    reasons: [because("worth-its-time", { ...row, ...told }), because("useful-tones", counting(row))],
  };
}

/**
 * A row whose density is nearly the same and whose error is noticeably less, perhaps by another halftone; otherwise the row itself.
 */
function betterBeside(row: PlanRow, rows: readonly PlanRow[]): PlanRow {
  const beside = rows.filter(
    ({ linesPerInch }) =>
      Math.max(linesPerInch / row.linesPerInch, row.linesPerInch / linesPerInch) < NEARLY_SAME,
  );
  const best = minBy(beside, errorOf);
  return errorOf(row) - errorOf(best) >= NOT_NOTICEABLE ? best : row;
}

const errorOf = ({ expectedVisualError = 0 }: PlanRow): number => expectedVisualError;

/** Where the least error is expected, if that is at another density, and why that one is not chosen. */
function errorReasons(rows: readonly PlanRow[], row: PlanRow): Reason[] {
  const best = minBy(rows, errorOf);
  const less = errorOf(row) - errorOf(best);
  if (best === row || less < 0.005) return [];
  const [here, there] = [row, best].map((each) => ({ ...counting(each), error: errorOf(each) }));
  return [because("least-error", { here, there, isNoticeable: less >= NOT_NOTICEABLE })];
}

/** Harmful effects of the choice that the user should know before engraving. */
function harms({ material }: PhotoCandidates, { gapMm, charRisk }: PlanRow): Reason[] {
  const leavesGaps = gapMm > 0;
  if (!leavesGaps && (charRisk === undefined || charRisk === "none")) return [];
  return [because("harms", { material: material.name, leavesGaps, charRisk })];
}

/** Why this material needs more or less than the matched density. */
function materialReasons({ lens, material, rows }: PhotoCandidates, row: PlanRow): Reason[] {
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

function changesOf({ options, rows, spread, lens }: PhotoCandidates, row: PlanRow): Change[] {
  const { minutes, gain } = options;
  const detailMm = options.tones?.detailMm ?? COMPARED_MM;
  const denser = rows.filter(({ linesPerInch }) => linesPerInch > row.linesPerInch);
  const more = denser.find((each) => usefulOf(each) > usefulOf(row));
  const before = [...rows].reverse().find(({ linesPerInch }) => linesPerInch < row.linesPerInch);
  const { held, nominal } = tonesAt(row, detailMm);
  const cause = blurringPart(spread, lens, row, detailMm);
  const changes: Change[] = [];
  if (more) {
    const allowed = minutes !== undefined && more.seconds <= 60 * minutes;
    changes.push(changedBy("more-time", { ...counting(more), allowed }));
  } else if (denser.length > 0) {
    changes.push(changedBy("no-more-time", {}));
  }
  if (cause && nominal - held > WORTH_A_WORD) {
    changes.push(changedBy("steadier-dose", { cause, nominal, held, detailMm }));
  }
  if (before) changes.push(changedBy("less-time", counting(before)));
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

/** A note if useful tones fall with density, and why. */
function fallNotes({ material, rows, spread, lens }: PhotoCandidates): Note[] {
  const bestRow = minBy(rows, (row) => -usefulOf(row));
  const beyond = rows.filter(({ linesPerInch }) => linesPerInch >= bestRow.linesPerInch);
  const worstRow = minBy(beyond, usefulOf);
  const [best, worst] = [bestRow, worstRow].map(counting);
  if (best.useful - worst.useful < WORTH_A_WORD) return [];
  const cause = blurringPart(spread, lens, worstRow, COMPARED_MM);
  const fall = { best, worst, ...(cause && { cause }) };
  return material.shape === "steep"
    ? [noted("steep-density-worse", { ...fall, material: material.name })]
    : [noted("tones-fall", fall)];
}
