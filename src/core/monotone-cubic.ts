export type Interpolant = (x: number) => number;

/**
 * Monotone piecewise cubic through (x, y), constant beyond both ends. The curve rises and falls with the data and never
 * overshoots.
 *
 * Slopes are the weighted harmonic mean of F. N. Fritsch and J. Butland, "A method for constructing local monotone
 * piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5 (1984), 300–304; at the ends the three-point formula limited
 * for shape (Moler, Numerical Computing with MATLAB, 2004, section 3.6). SciPy's PchipInterpolator follows the same two.
 *
 * @param x strictly rising, at least one value
 * @param y as many values
 */
export function monotoneCubic(x: ArrayLike<number>, y: ArrayLike<number>): Interpolant {
  const n = x.length;
  const first = y[0];
  if (n === 1) return () => first;
  const slopes = pchipSlopes(x, y);
  const last = y[n - 1];
  return (at) => {
    if (!(at > x[0])) return first;
    if (at >= x[n - 1]) return last;
    const k = intervalOf(x, at);
    const h = x[k + 1] - x[k];
    const t = (at - x[k]) / h;
    const s = 1 - t;
    return (
      y[k] * (1 + 2 * t) * s * s +
      y[k + 1] * (3 - 2 * t) * t * t +
      h * slopes[k] * t * s * s -
      h * slopes[k + 1] * t * t * s
    );
  };
}

/** Index k with x[k] ≤ at < x[k + 1], by bisection; `at` lies within the range. */
export function intervalOf(x: ArrayLike<number>, at: number): number {
  let low = 0;
  let high = x.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (x[middle] <= at) low = middle;
    else high = middle;
  }
  return low;
}

/** Slopes of `monotoneCubic` at its points, of which there are two or more. */
export function pchipSlopes(x: ArrayLike<number>, y: ArrayLike<number>): Float64Array {
  const n = x.length;
  const h = new Float64Array(n - 1);
  const secant = new Float64Array(n - 1);
  for (let k = 0; k < n - 1; k++) {
    h[k] = x[k + 1] - x[k];
    secant[k] = (y[k + 1] - y[k]) / h[k];
  }
  const slopes = new Float64Array(n);
  if (n === 2) return slopes.fill(secant[0]);
  for (let k = 1; k < n - 1; k++) {
    if (secant[k - 1] * secant[k] <= 0) continue;
    const before = 2 * h[k] + h[k - 1];
    const after = h[k] + 2 * h[k - 1];
    slopes[k] = (before + after) / (before / secant[k - 1] + after / secant[k]);
  }
  slopes[0] = endSlope(h[0], h[1], secant[0], secant[1]);
  slopes[n - 1] = endSlope(h[n - 2], h[n - 3], secant[n - 2], secant[n - 3]);
  return slopes;
}

function endSlope(h0: number, h1: number, secant0: number, secant1: number): number {
  const slope = ((2 * h0 + h1) * secant0 - h0 * secant1) / (h0 + h1);
  if (Math.sign(slope) !== Math.sign(secant0)) return 0;
  if (Math.sign(secant0) !== Math.sign(secant1) && Math.abs(slope) > 3 * Math.abs(secant0))
    return 3 * secant0;
  return slope;
}
