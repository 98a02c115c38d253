import type { Candidate, Comparison } from "../comparison.js";

/** Why each winner won. */
export function winnerReasons(
  candidates: readonly Candidate[],
  winners: Comparison["winners"],
): Comparison["reasons"] {
  const [nominal, robust, fast] = [winners.nominal, winners.robust, winners.fast].map((k) => candidates[k]);
  return {
    nominal: `smallest error if dose and spot are exactly as set: ${lightness(nominal.visualErrorRms)}`,
    robust: `smallest expected error on a machine that varies: ${lightness(robust.expectedVisualError)}`,
    fast: comparedWith(robust, fast),
  };
}

/** The saved time and the additional error of the quick candidate compared with the robust one. */
function comparedWith(robust: Candidate, fast: Candidate): string {
  if (fast === robust)
    return "the robust one again: no other saves a tenth of its time without a noticeable loss";
  const more = fast.expectedVisualError - robust.expectedVisualError;
  return `saves ${savedWords(fast, robust)} of the time of the robust one, for ${lightness(more)} more expected error, which nobody notices`;
}

/** The share of the time that one candidate saves compared with another: `45 %`. */
export const savedWords = (quick: Candidate, other: Candidate): string =>
  `${Math.round(100 * (1 - quick.seconds / other.seconds))} %`;

export const lightness = (value: number): string => `${value.toFixed(2)} L*`;
