import { erf, erfc } from "../core/erf.js";

/**
 * Dose that one burned pixel leaves along its own line at distance `xMm` from its centre: a box of one pitch, blurred by
 * the Gaussian spot and trailed by the source's first-order lag; its sum over all pixels of a solid line is 1.
 *
 *     W(x) = S(x + pitch/2) − S(x − pitch/2),   S = step response of spot and lag
 *
 * @param lagMm distance travelled in one time constant; positive x is the direction of travel
 */
export function lineProfile(xMm: number, pitchMm: number, sigmaMm: number, lagMm: number): number {
  const half = pitchMm / 2;
  return stepResponse(xMm + half, sigmaMm, lagMm) - stepResponse(xMm - half, sigmaMm, lagMm);
}

/**
 * A beam switched on at x = 0: Φ(x/σ) − e^(σ²/2ℓ² − x/ℓ) · Φ(x/σ − σ/ℓ), the Gaussian step convolved with e^(−x/ℓ)/ℓ
 * (the exponentially modified Gaussian of chromatography: E. Grushka, Anal. Chem. 44, 1733 (1972)).
 */
function stepResponse(xMm: number, sigmaMm: number, lagMm: number): number {
  const z = xMm / sigmaMm;
  if (lagMm === 0) return 0.5 * (1 + erf(z * Math.SQRT1_2));
  const ratio = sigmaMm / lagMm;
  // A lag this short only moves and widens the step; its skew, 2(ℓ/σ)³, is below 2e-4, and the exponent would overflow.
  if (ratio > 22) {
    return 0.5 * (1 + erf(((xMm - lagMm) / Math.hypot(sigmaMm, lagMm)) * Math.SQRT1_2));
  }
  const tail = 0.5 * Math.exp(ratio * (ratio / 2 - z)) * erfc((ratio - z) * Math.SQRT1_2);
  return 0.5 * (1 + erf(z * Math.SQRT1_2)) - tail;
}

/** Normalised Gaussian density, 1/mm. */
export function gaussianDensity(xMm: number, sigmaMm: number): number {
  const z = xMm / sigmaMm;
  return Math.exp(-0.5 * z * z) / (sigmaMm * Math.sqrt(2 * Math.PI));
}
