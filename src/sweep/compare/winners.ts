import type { Candidate, Comparison } from "../../6-report/comparison.js";
import { winnerReasons } from "../../6-report/words/winner-words.js";
import { NOT_NOTICEABLE } from "../../core/physics/lightness.js";

/** Run times up to this ratio count as equal, and the smallest expected error decides. */
const AS_FAST = 1.01;

/** A quick candidate must take no more than this share of the time of the best one. */
const WORTH_HAVING = 0.9;

/**
 * Held tones from this share on count as just as many. The expected error does not tell: it blends what a fine detail shows apart.
 */
const AS_MANY = 0.9;
const HELD_IN_MM = 0.25;

/** The winners of a comparison and the reasons. */
export function winnersOf(candidates: readonly Candidate[]): Pick<Comparison, "winners" | "reasons"> {
  const searched = [...candidates.keys()].filter((k) => !unsearched(candidates[k]));
  const all = searched.length > 0 ? searched : [...candidates.keys()];
  const nominal = minBy(all, (k) => candidates[k].visualErrorRms);
  const robust = minBy(all, (k) => candidates[k].expectedVisualError);
  const fast = quickIfWorthIt(candidates, asGoodAsBest(candidates, all));
  const winners = { nominal, robust, fast };
  return { winners, reasons: winnerReasons(candidates, winners) };
}

/** A search without time for a pass is another candidate under a wrong name. */
const unsearched = ({ warnings }: Candidate): boolean => warnings.some(({ code }) => code === "not-searched");

/** The candidates of a group whose expected error is not noticeably above the smallest of the group. */
export function asGoodAsBest(candidates: readonly Candidate[], group: readonly number[]): number[] {
  const errorOf = (k: number): number => candidates[k].expectedVisualError;
  const limit = Math.min(...group.map(errorOf)) + NOT_NOTICEABLE;
  return group.filter((k) => errorOf(k) <= limit);
}

/**
 * The candidate of a group with the smallest expected error, or the quickest one that holds as many tones, if that saves at least a
 * tenth of its time.
 */
export function quickIfWorthIt(candidates: readonly Candidate[], group: readonly number[]): number {
  const errorOf = (k: number): number => candidates[k].expectedVisualError;
  const best = minBy(group, errorOf);
  const enough = AS_MANY * heldTones(candidates[best]);
  const able = group.filter((k) => heldTones(candidates[k]) >= enough);
  const quickest = Math.min(...able.map((k) => candidates[k].seconds));
  if (quickest > WORTH_HAVING * candidates[best].seconds) return best;
  const quick = able.filter((k) => candidates[k].seconds <= AS_FAST * quickest);
  return minBy(quick, errorOf);
}

/** In a fine feature of a face. */
const heldTones = ({ tonalResolution }: Candidate): number =>
  tonalResolution.find(({ detailMm }) => detailMm === HELD_IN_MM)?.held ?? 0;

/** The first index with the minimum of something. */
export const minBy = (indices: readonly number[], of: (k: number) => number): number =>
  indices.reduce((best, k) => (of(k) < of(best) ? k : best));
