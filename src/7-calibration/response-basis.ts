/** A response as a sum of quadratic B-splines over equal cells of dose, from 0 to `topDose`: smooth, and monotone if its coefficients are. */
export interface ResponseBasis {
  readonly cells: number;
  readonly topDose: number;
}

/** Splines that reach into the range. */
export const splineCount = ({ cells }: ResponseBasis): number => cells + 2;

/** Mean of each spline over places of equal weight with these doses: times the coefficients, the mean luminance factor. */
export function splineMeans(
  { cells, topDose }: ResponseBasis,
  doses: Float64Array,
  factor = 1,
): Float64Array {
  const means = new Float64Array(cells + 2);
  const perDose = (factor * cells) / topDose;
  for (let i = 0; i < doses.length; i++) {
    const at = Math.min(cells, doses[i] * perDose);
    const cell = Math.min(cells - 1, Math.floor(at));
    const t = at - cell;
    const s = 1 - t;
    means[cell] += (s * s) / 2;
    means[cell + 1] += 0.5 + t * s;
    means[cell + 2] += (t * t) / 2;
  }
  for (let k = 0; k < means.length; k++) means[k] /= doses.length;
  return means;
}

/** Luminance factor after a dose, constant beyond the range. */
export const splineAt = (basis: ResponseBasis, coefficients: Float64Array, dose: number): number =>
  splineMeans(basis, Float64Array.of(dose)).reduce((sum, share, k) => sum + share * coefficients[k], 0);
