import type { Candidate, Comparison } from "../../6-report/comparison.js";
import { winnerReasons } from "../../6-report/words/winner-words.js";

/** Run times up to this ratio count as equal, and the smallest expected error decides. */
const AS_FAST = 1.01;

/** A quick candidate must take no more than this share of the robust one's time. */
const WORTH_HAVING = 0.9;

/** Expected error that it may have above the smallest, in L*: a third of what is just noticeable side by side. */
const MAX_MORE = 0.3;

/** The winners of a comparison and the reasons. */
export function winnersOf(candidates: readonly Candidate[]): Pick<Comparison, "winners" | "reasons"> {
  const nominal = minBy(candidates, ({ visualErrorRms }) => visualErrorRms);
  const robust = minBy(candidates, ({ expectedVisualError }) => expectedVisualError);
  const min = candidates[robust].expectedVisualError;
  const limit = min + MAX_MORE;
  const good = candidates.filter(({ expectedVisualError }) => expectedVisualError <= limit);
  const quickest = AS_FAST * Math.min(...good.map(({ seconds }) => seconds));
  const saves = quickest <= AS_FAST * WORTH_HAVING * candidates[robust].seconds;
  const fast = saves
    ? minBy(candidates, ({ expectedVisualError: error, seconds }) =>
        error <= limit && seconds <= quickest ? error : Number.POSITIVE_INFINITY,
      )
    : robust;
  const winners = { nominal, robust, fast };
  return { winners, reasons: winnerReasons({ candidates, winners, limit }) };
}

/** Index of the first candidate with the minimum of something. */
function minBy(candidates: readonly Candidate[], of: (candidate: Candidate) => number): number {
  return candidates.reduce((best, one, k) => (of(one) < of(candidates[best]) ? k : best), 0);
}
