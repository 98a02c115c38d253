import { dot, solvePositiveDefinite } from "../core/positive-definite.js";

/** A sum of squares to make small. The unknowns are scaled so that 1 is a change that matters. */
export interface SearchProblem {
  readonly residuals: (at: Float64Array) => Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
}

export interface Found {
  readonly at: Float64Array;
  readonly squares: number;
  /** [unknown][residual] slopes of the residuals. */
  readonly slopes: readonly Float64Array[];
}

/** Change of an unknown by which slopes are taken. */
const SLOPE_STEP = 0.02;
/** A search ends when a step changes no unknown by more than this. */
const LEAST_STEP = 0.004;
/** Attempts to shorten a step that does not help. */
const MAX_DAMPINGS = 6;

/**
 * Least squares by the method of K. Levenberg (1944) and D. W. Marquardt (1963), with slopes from differences, within bounds. A general
 * package that we looked at runs to its limit of steps unless the sum of squares falls below a given number, so this one is our own.
 */
export function searchLeastSquares(problem: SearchProblem, start: Float64Array, maxSteps: number): Found {
  let at = start;
  let here = problem.residuals(at);
  let slopes = slopesAt(problem, at, here);
  let damping = 1e-3;
  for (let step = 0; step < maxSteps; step++) {
    const next = shorterUntilBetter(problem, { at, here, slopes, damping });
    if (!next) break;
    const moved = next.at.reduce((most, x, i) => Math.max(most, Math.abs(x - at[i])), 0);
    ({ at, here, damping } = next);
    slopes = slopesAt(problem, at, here);
    if (moved < LEAST_STEP) break;
  }
  return { at, squares: dot(here, here), slopes };
}

interface Place {
  readonly at: Float64Array;
  readonly here: Float64Array;
  readonly slopes: readonly Float64Array[];
  readonly damping: number;
}

function shorterUntilBetter(problem: SearchProblem, place: Place) {
  let { damping } = place;
  for (let attempt = 0; attempt < MAX_DAMPINGS; attempt++) {
    const at = stepFrom(problem, place, damping);
    const here = problem.residuals(at);
    if (dot(here, here) < dot(place.here, place.here)) return { at, here, damping: damping / 5 };
    damping = Math.max(damping * 10, 1e-2);
  }
  return undefined;
}

/** Unknowns that stand at a bound and would go beyond stay there. */
function stepFrom({ low, high }: SearchProblem, place: Place, damping: number): Float64Array {
  const { at, here, slopes } = place;
  const free = slopes
    .map((_, i) => i)
    .filter((i) => {
      const uphill = dot(slopes[i], here);
      return uphill > 0 ? at[i] > low[i] : at[i] < high[i];
    });
  const matrix = free.map((i) => free.map((j) => dot(slopes[i], slopes[j]) * (i === j ? 1 + damping : 1)));
  const step = solvePositiveDefinite(
    matrix,
    free.map((i) => -dot(slopes[i], here)),
  );
  const next = Float64Array.from(at);
  free.forEach((i, k) => {
    next[i] = Math.min(high[i], Math.max(low[i], at[i] + step[k]));
  });
  return next;
}

function slopesAt({ residuals, high }: SearchProblem, at: Float64Array, here: Float64Array): Float64Array[] {
  return Array.from(at, (x, i) => {
    const by = x + SLOPE_STEP <= high[i] ? SLOPE_STEP : -SLOPE_STEP;
    const beside = Float64Array.from(at);
    beside[i] += by;
    return residuals(beside).map((value, n) => (value - here[n]) / by);
  });
}

/**
 * How far the unknowns move if the residuals change by these: one step of Gauss and Newton. If the changes are normal deviates, so are
 * the moves, and they vary as the unknowns do.
 */
export function moveOf({ slopes }: Pick<Found, "slopes">, changes: Float64Array): number[] {
  return solvePositiveDefinite(
    slopes.map((a) => slopes.map((b) => dot(a, b))),
    slopes.map((slope) => -dot(slope, changes)),
  );
}

/** Standard deviations of the unknowns, from the slopes at the best place; residuals are in standard deviations. */
export function deviationsOf({ slopes }: Pick<Found, "slopes">): number[] {
  return slopes.map((_, i) => {
    const matrix = slopes.map((a) => slopes.map((b) => dot(a, b)));
    const unit = slopes.map((__, j) => (j === i ? 1 : 0));
    return Math.sqrt(Math.max(0, solvePositiveDefinite(matrix, unit)[i]));
  });
}
