import { type Equation, nonnegativeLeastSquares } from "../core/nonnegative-least-squares.js";
import { dot } from "../core/positive-definite.js";

/** One pattern as an equation for the response. */
export interface PatternEquation {
  /** Mean of each spline over the pattern. */
  readonly means: Float64Array;
  readonly luminance: number;
  /** Standard error of the luminance factor. */
  readonly error: number;
}

export interface ResponseShape {
  /** Whether burning darkens the surface. */
  readonly darkens: boolean;
  /** Standard deviation that the second difference of the response's steps is given, from spline to spline. */
  readonly roughness: number;
  /** Second differences that are taken for usual, in those standard deviations; 0 if absent. */
  readonly kinks?: Float64Array;
}

export interface FittedResponse {
  /** Of the splines. */
  readonly coefficients: Float64Array;
  /** In standard errors: of the patterns, then of the smoothing. */
  readonly residuals: Float64Array;
}

/**
 * The monotone response that comes nearest to the patterns, by least squares with slight smoothing. The unknowns are the darkest
 * coefficient and the steps from one to the next: none is below 0, so the response is monotone and no luminance factor is negative.
 */
export function fitResponse(patterns: readonly PatternEquation[], shape: ResponseShape): FittedResponse {
  const count = patterns[0].means.length;
  const equations = [
    ...patterns.map(({ means, luminance, error }) => ({
      coefficients: byStep(means, shape.darkens).map((share) => share / error),
      value: luminance / error,
    })),
    ...smoothing(count, shape),
  ];
  const unknowns = nonnegativeLeastSquares(equations);
  return {
    coefficients: coefficientsOf(unknowns, shape.darkens),
    residuals: Float64Array.from(equations, (each) => each.value - dot(each.coefficients, unknowns)),
  };
}

/** What the darkest coefficient (first) and each step contribute to a sum of splines. */
function byStep(means: Float64Array, darkens: boolean): Float64Array {
  const count = means.length;
  const shares = new Float64Array(count);
  let sum = 0;
  // The step after spline k raises all splines on its light side: those before it if burning darkens.
  for (let n = 0; n < count; n++) {
    sum += means[darkens ? n : count - 1 - n];
    shares[darkens ? (n + 1) % count : (count - 1 - n) % count] = sum;
  }
  return shares;
}

/** The backward of `byStep`: unknown k ≥ 1 is the step between splines k − 1 and k. */
function coefficientsOf(unknowns: Float64Array, darkens: boolean): Float64Array {
  const count = unknowns.length;
  const coefficients = new Float64Array(count);
  let sum = unknowns[0];
  for (let n = 0; n < count; n++) {
    const k = darkens ? count - 1 - n : n;
    if (n > 0) sum += unknowns[darkens ? k + 1 : k];
    coefficients[k] = sum;
  }
  return coefficients;
}

/** Steps change evenly unless the patterns say otherwise. */
function smoothing(count: number, { roughness, kinks }: ResponseShape): Equation[] {
  return Array.from({ length: count - 3 }, (_, n) => {
    const coefficients = new Float64Array(count);
    coefficients[n + 1] = 1 / roughness;
    coefficients[n + 2] = -2 / roughness;
    coefficients[n + 3] = 1 / roughness;
    return { coefficients, value: kinks ? kinks[n] : 0 };
  });
}
