import { dot, solvePositiveDefinite } from "./positive-definite.js";

/** One equation of a least-squares problem: coefficients · unknowns ≈ value. */
export interface Equation {
  readonly coefficients: ArrayLike<number>;
  readonly value: number;
}

/** The normal equations: matrix · unknowns = right. */
export interface NormalEquations {
  readonly matrix: readonly Float64Array[];
  readonly right: Float64Array;
}

/** Gradients below this share of the largest one count as zero. */
const ROUNDING = 1e-12;

/**
 * The unknowns of 0 or more with the least sum of squared errors, by the active-set method of C. L. Lawson and R. J. Hanson,
 * Solving Least Squares Problems (1974), chapter 23. SciPy's `nnls` is the outside check.
 *
 * @param equations at least one, all with the same number of coefficients, no column all 0
 */
export const nonnegativeLeastSquares = (equations: readonly Equation[]): Float64Array =>
  nonnegativeSolution(normalEquations(equations));

/** The same from normal equations. */
export function nonnegativeSolution(normal: NormalEquations): Float64Array {
  const count = normal.right.length;
  const smallest = ROUNDING * Math.max(...normal.right.map(Math.abs));
  const free: number[] = [];
  let unknowns: Float64Array = new Float64Array(count);
  for (let step = 0; step < 3 * count; step++) {
    const entering = steepestDescent(normal, unknowns, free, smallest);
    if (entering === undefined) break;
    free.push(entering);
    unknowns = solveFree(normal, unknowns, free);
  }
  return unknowns;
}

function normalEquations(equations: readonly Equation[]): NormalEquations {
  const count = equations[0].coefficients.length;
  const matrix = Array.from({ length: count }, () => new Float64Array(count));
  const right = new Float64Array(count);
  for (const { coefficients, value } of equations) {
    for (let i = 0; i < count; i++) {
      const own = coefficients[i];
      if (own === 0) continue;
      right[i] += own * value;
      const row = matrix[i];
      for (let j = 0; j <= i; j++) row[j] += own * coefficients[j];
    }
  }
  for (let i = 0; i < count; i++) for (let j = 0; j < i; j++) matrix[j][i] = matrix[i][j];
  return { matrix, right };
}

/** The unknown at 0 whose growth lowers the error most; undefined if none does. */
function steepestDescent(
  { matrix, right }: NormalEquations,
  unknowns: Float64Array,
  free: readonly number[],
  smallest: number,
): number | undefined {
  let best: number | undefined;
  let most = smallest;
  for (let i = 0; i < right.length; i++) {
    if (free.includes(i)) continue;
    const gradient = right[i] - dot(matrix[i], unknowns);
    if (gradient <= most) continue;
    most = gradient;
    best = i;
  }
  return best;
}

/** Solves for the free unknowns. Those that would fall below 0 stop there and are free no longer. */
function solveFree(normal: NormalEquations, from: Float64Array, free: number[]): Float64Array {
  const unknowns = Float64Array.from(from);
  for (;;) {
    const solved = solvePositiveDefinite(
      free.map((i) => free.map((j) => normal.matrix[i][j])),
      free.map((i) => normal.right[i]),
    );
    const share = free.reduce((least, i, k) => {
      const fall = unknowns[i] - solved[k];
      return solved[k] <= 0 && fall > 0 ? Math.min(least, unknowns[i] / fall) : least;
    }, 1);
    free.forEach((i, k) => {
      unknowns[i] += share * (solved[k] - unknowns[i]);
    });
    const stopped = free.filter((i, k) => solved[k] <= 0 && unknowns[i] <= ROUNDING);
    for (const i of stopped) {
      unknowns[i] = 0;
      free.splice(free.indexOf(i), 1);
    }
    if (stopped.length === 0) return unknowns;
  }
}
