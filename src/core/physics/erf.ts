const TWO_OVER_SQRT_PI = 2 / Math.sqrt(Math.PI);

/** Below this the power series converges fast and without cancellation; above it the continued fraction does. */
const SERIES_LIMIT = 2;

/**
 * Complementary error function, relative error below 1e-12 for |x| ≤ 20. Abramowitz & Stegun, Handbook of Mathematical
 * Functions (1964), 7.1.6 (series) and 7.1.14 (continued fraction).
 */
export function erfc(x: number): number {
  if (x < 0) return 2 - erfc(-x);
  return x < SERIES_LIMIT ? 1 - erfSeries(x) : Math.exp(-x * x) * scaledFraction(x);
}

/** e^(x²)·erfc(x) for x ≥ 0, relative error below 1e-12. It falls like 1/x, while erfc itself underflows at x = 27. */
export function scaledErfc(x: number): number {
  return x < SERIES_LIMIT ? Math.exp(x * x) * (1 - erfSeries(x)) : scaledFraction(x);
}

/** erf(x) = 2/√π · e^(−x²) · Σ 2ⁿ x^(2n+1) / (2n+1)!!: every term has one sign, so nothing cancels (A&S 7.1.6). */
function erfSeries(x: number): number {
  let term = x;
  let sum = x;
  for (let n = 1; Math.abs(term) > 1e-17 * Math.abs(sum); n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return TWO_OVER_SQRT_PI * Math.exp(-x * x) * sum;
}

/** e^(x²)·erfc(x) = 1/√π · 1/(x + ½/(x + 1/(x + 3/2/(x + …)))), evaluated from its tail. */
function scaledFraction(x: number): number {
  let tail = x;
  for (let k = 60; k >= 1; k--) tail = x + k / 2 / tail;
  return 1 / (Math.sqrt(Math.PI) * tail);
}
