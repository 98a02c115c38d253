import type { Candidate, Comparison } from "../../6-report/comparison.js";
import { winnerReasons } from "../../6-report/words/winner-words.js";

/** Nobody waits for less: run times of this ratio are equal, and the least expected error decides. */
const AS_FAST = 1.01;

/**
 * What a quick candidate may cost in expected error: a quarter of the least, or 0.3 L* where that is more. A third of a just
 * noticeable difference goes unseen whatever the ratio; and where all err by several L*, so does a quarter.
 */
const MOST_RATIO = 1.25;
const MOST_MORE = 0.3;

/** The candidates to point out, and why. */
export function winnersOf(
  candidates: readonly Candidate[],
  doseSpread: number,
): Pick<Comparison, "winners" | "reasons"> {
  const nominal = leastBy(candidates, ({ visualErrorRms }) => visualErrorRms);
  const robust = leastBy(candidates, ({ expectedVisualError }) => expectedVisualError);
  const least = candidates[robust].expectedVisualError;
  const limit = Math.max(MOST_RATIO * least, least + MOST_MORE);
  const good = candidates.filter(({ expectedVisualError }) => expectedVisualError <= limit);
  const quickest = AS_FAST * Math.min(...good.map(({ seconds }) => seconds));
  const fast = leastBy(candidates, ({ expectedVisualError: error, seconds }) =>
    error <= limit && seconds <= quickest ? error : Number.POSITIVE_INFINITY,
  );
  const winners = { nominal, robust, fast };
  return { winners, reasons: winnerReasons({ candidates, winners, doseSpread, limit }) };
}

/** Index of the first candidate with the least of something. */
function leastBy(candidates: readonly Candidate[], of: (candidate: Candidate) => number): number {
  return candidates.reduce((best, one, k) => (of(one) < of(candidates[best]) ? k : best), 0);
}
