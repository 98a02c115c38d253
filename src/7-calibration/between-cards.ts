import { BAND_DEVIATIONS } from "./band.js";
import { asBelieved, bandBelieved, learntOrBelieved } from "./believed-deviation.js";
import type { LearntValue } from "./calibration.js";

/** 5 % and 95 % points of χ² with 1, 2, … degrees of freedom (M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, table 26.8; as `scipy.stats.chi2`). */
const LOW_POINTS = [0.0039, 0.1026, 0.3518, 0.7107, 1.1455, 1.6354, 2.1673, 2.7326, 3.3251, 3.9403];
const HIGH_POINTS = [3.8415, 5.9915, 7.8147, 9.4877, 11.0705, 12.5916, 14.0671, 15.5073, 16.919, 18.307];

/** With many degrees of freedom the cube root is nearly normal (E. B. Wilson, M. M. Hilferty, Proc. Natl. Acad. Sci. 17, 684, 1931). */
function squarePoints(freedoms: number): { readonly low: number; readonly high: number } {
  if (freedoms <= LOW_POINTS.length) {
    return { low: LOW_POINTS[freedoms - 1], high: HIGH_POINTS[freedoms - 1] };
  }
  const variance = 2 / (9 * freedoms);
  const at = (deviations: number): number =>
    freedoms * (1 - variance + deviations * Math.sqrt(variance)) ** 3;
  return { low: at(-BAND_DEVIATIONS), high: at(BAND_DEVIATIONS) };
}

/** Two or three cards may come out alike by chance. */
const LEAST_FACTORS = 3;

/**
 * Relative standard deviation from card to card of something that is known of each card as a factor on that of the first, with the 90 %
 * band of a variance of so many cards.
 *
 * @param factors of each card after the first
 * @param believed standard deviation of a card before these were read
 * @param drawnBy that which the fit believed, whatever the machine
 */
export function deviationBetween(
  factors: readonly LearntValue[],
  believed: number,
  drawnBy: number,
): LearntValue {
  if (factors.length < LEAST_FACTORS || factors.some(({ learnt }) => !learnt)) {
    return asBelieved(believed, bandBelieved(believed));
  }
  const prior = 2 * drawnBy ** 2;
  const errors = factors.map(
    ({ low, high }) => ((Math.log(high) - Math.log(low)) / (2 * BAND_DEVIATIONS)) ** 2,
  );
  // The fit drew each factor towards 1 by what was believed. Without that it is further out, and less sure.
  const drawn = errors.map((error) => Math.max(0.5, 1 - error / prior));
  const logs = [0, ...factors.map(({ value }, k) => Math.log(value) / drawn[k])];
  const mean = logs.reduce((sum, each) => sum + each, 0) / logs.length;
  const squares = logs.reduce((sum, each) => sum + (each - mean) ** 2, 0);
  // A factor has the error of two cards.
  const error = errors.reduce((sum, each, k) => sum + each / drawn[k], 0) / (2 * errors.length);
  const deviation = (variance: number): number => Math.sqrt(Math.max(0, variance - error));
  const points = squarePoints(factors.length);
  const band = { low: deviation(squares / points.high), high: deviation(squares / points.low) };
  return learntOrBelieved(deviation(squares / factors.length), band, believed);
}
