import type { Candidate, Comparison } from "../../6-report/comparison.js";

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
  const spread = `${Number((100 * doseSpread).toFixed(1))} %`;
  return {
    winners: { nominal, robust, fast },
    reasons: {
      nominal: `least visual error at the set dose: ${lightness(candidates[nominal].visualErrorRms)}`,
      robust: `least visual error in the mean over doses of −${spread}, 0 and +${spread}: ${lightness(least)}`,
      fast: `least run time of those whose error over these doses is at most ${lightness(limit)}${comparedWith(candidates[robust], candidates[fast])}`,
    },
  };
}

/** What the quick candidate saves, and costs, beside the robust one. */
function comparedWith(robust: Candidate, fast: Candidate): string {
  if (fast === robust) return "; no other of them is quicker by more than 1 %";
  const saved = 100 * (1 - fast.seconds / robust.seconds);
  const more = fast.expectedVisualError - robust.expectedVisualError;
  return `: ${saved.toFixed(saved < 10 ? 1 : 0)} % less time than the robust one for ${lightness(more)} more error`;
}

const lightness = (value: number): string => `${value.toFixed(2)} L*`;

/** Index of the first candidate with the least of something. */
function leastBy(candidates: readonly Candidate[], of: (candidate: Candidate) => number): number {
  return candidates.reduce((best, one, k) => (of(one) < of(candidates[best]) ? k : best), 0);
}
