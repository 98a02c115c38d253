import { erfc, scaledErfc } from "../core/physics/erf.js";

/** A piece of a line during which the source is on. */
export interface Burst {
  readonly fromMm: number;
  readonly toMm: number;
}

/**
 * Dose of a burst along its line at `xMm`: a box, blurred by the Gaussian spot and by the first-order lag of the source. A burned
 * pixel is a burst of one pitch. The sum over all pixels of a solid line is 1.
 *
 *     W(x) = S(x − from) − S(x − to),   S = step response of spot and lag
 *
 * @param lagMm distance travelled in one time constant; positive x is the direction of travel
 */
export function burstProfile(xMm: number, { fromMm, toMm }: Burst, sigmaMm: number, lagMm: number): number {
  return stepResponse(xMm - fromMm, sigmaMm, lagMm) - stepResponse(xMm - toMm, sigmaMm, lagMm);
}

/**
 * Dose of a beam switched on at x = 0: Φ(z) − e^(r²/2 − rz) · Φ(z − r) with z = x/σ, r = σ/ℓ, the Gaussian step convolved with
 * e^(−x/ℓ)/ℓ (the exponentially modified Gaussian of chromatography: E. Grushka, Anal. Chem. 44, 1733 (1972)).
 */
function stepResponse(xMm: number, sigmaMm: number, lagMm: number): number {
  const z = xMm / sigmaMm;
  const atOnce = 0.5 * erfc(-z * Math.SQRT1_2);
  if (lagMm === 0) return atOnce;
  const r = sigmaMm / lagMm;
  // Below z = r the exponential overflows and Φ vanishes. Their product is the scaled erfc times the Gaussian.
  const late =
    z < r
      ? Math.exp(-0.5 * z * z) * scaledErfc((r - z) * Math.SQRT1_2)
      : Math.exp(r * (r / 2 - z)) * erfc((r - z) * Math.SQRT1_2);
  return atOnce - 0.5 * late;
}

/** Normalised Gaussian density, 1/mm. */
export function gaussianDensity(xMm: number, sigmaMm: number): number {
  const z = xMm / sigmaMm;
  return Math.exp(-0.5 * z * z) / (sigmaMm * Math.sqrt(2 * Math.PI));
}
