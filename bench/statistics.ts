export interface Spread {
  readonly median: number;
  readonly min: number;
  readonly max: number;
}

/** Of at least one value. */
export function spreadOf(values: readonly number[]): Spread {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  return {
    median: (sorted[Math.floor(middle)] + sorted[Math.ceil(middle)]) / 2,
    min: sorted[0],
    max: sorted[sorted.length - 1],
  };
}

/** The line through points by least squares. */
export function fitLine(xs: readonly number[], ys: readonly number[]) {
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const meanX = mean(xs);
  const meanY = mean(ys);
  const slope = mean(xs.map((x, i) => (x - meanX) * (ys[i] - meanY))) / mean(xs.map((x) => (x - meanX) ** 2));
  return { intercept: meanY - slope * meanX, slope };
}

/** p of y = c · x^p, by least squares of the logarithms. */
export const fitExponent = (xs: readonly number[], ys: readonly number[]): number =>
  fitLine(xs.map(Math.log), ys.map(Math.log)).slope;

/**
 * Kendall's τ of two orders of the same items: (pairs in the same order − pairs in opposite orders) / all pairs, −1..1.
 * M. G. Kendall, "A new measure of rank correlation", Biometrika 30, 81–93 (1938).
 */
export function rankCorrelation(first: readonly number[], second: readonly number[]): number {
  let agreement = 0;
  for (let j = 1; j < first.length; j++) {
    for (let i = 0; i < j; i++) agreement += Math.sign((first[j] - first[i]) * (second[j] - second[i]));
  }
  return agreement / ((first.length * (first.length - 1)) / 2);
}
