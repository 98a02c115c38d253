import type { Candidate, Comparison } from "../comparison.js";

/** The data behind the winners. */
export interface WinnerFacts {
  readonly candidates: readonly Candidate[];
  readonly winners: Comparison["winners"];
  /** Expected error, in L*, up to which a quick candidate may win. */
  readonly limit: number;
}

/** Why each winner won. */
export function winnerReasons({ candidates, winners, limit }: WinnerFacts): Comparison["reasons"] {
  const [nominal, robust, fast] = [winners.nominal, winners.robust, winners.fast].map((k) => candidates[k]);
  return {
    nominal: `smallest visual error if dose and spot are exactly as set: ${lightness(nominal.visualErrorRms)}`,
    robust: `smallest expected error on a machine that varies: ${lightness(robust.expectedVisualError)}`,
    fast: `shortest run time of those whose expected error is no more than ${lightness(limit)}${comparedWith(robust, fast)}`,
  };
}

/** The saved time and the additional error of the quick candidate compared with the robust one. */
function comparedWith(robust: Candidate, fast: Candidate): string {
  if (fast === robust) return "; none of them saves a tenth of the time of the robust one";
  const saved = 100 * (1 - fast.seconds / robust.seconds);
  const more = fast.expectedVisualError - robust.expectedVisualError;
  return `: ${saved.toFixed(saved < 10 ? 1 : 0)} % less time than the robust one for ${lightness(more)} more error`;
}

const lightness = (value: number): string => `${value.toFixed(2)} L*`;
