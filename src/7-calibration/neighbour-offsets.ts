import { intoFactor, solvePositiveDefinite } from "../core/positive-definite.js";
import { covarianceOf, LENGTHS_MM, type PatchVariances } from "./local-variation.js";
import { blotchCovariance, sharedCovariances } from "./patch-covariance.js";
import type { VariedCard } from "./varied-patch.js";

/** So much of a patch nobody can foresee: rounding of the reading. */
const LEAST_VARIANCE = 1e-6;

/**
 * What its neighbours say of the offset of each patch: a blotch of the dose reaches over several, grain and lines run through a row. It
 * is the best linear prediction from all patches that show another pattern, so no pattern has a say in what is taken off its own patches
 * (C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, section 5.4.2, with a pattern in place of a point;
 * from memory).
 */
export function offsetsByNeighbours(card: VariedCard, variances: PatchVariances): Float64Array {
  const { patches } = card;
  const inverse = inverseOfFactor(covarianceRows(card, variances));
  // K⁻¹ · offsets: with the block of K⁻¹ of some patches it gives what is left of their offsets after the prediction from all others.
  const weighed = transposedTimes(
    inverse,
    inverse.map((row) => row.reduce((sum, value, j) => sum + value * patches[j].offset, 0)),
  );
  const predicted = new Float64Array(patches.length);
  for (const group of groupsOf(patches.map(({ pattern }) => pattern))) {
    const block = group.map((a) => group.map((b) => columnProduct(inverse, a, b)));
    const left = solvePositiveDefinite(
      block,
      group.map((a) => weighed[a]),
    );
    group.forEach((a, n) => {
      predicted[a] = patches[a].offset - left[n];
    });
  }
  return predicted;
}

/** The covariance of the offsets, row by row up to the diagonal. */
function covarianceRows({ patches, grid }: VariedCard, variances: PatchVariances): Float64Array[] {
  const blotches = [blotchCovariance(patches, grid, LENGTHS_MM[variances.length])];
  const shared = sharedCovariances(patches, grid);
  const whole = covarianceOf({ blotches, shared }, { ...variances, length: 0 });
  return patches.map((_, i) => {
    const row = whole.slice((i * (i + 1)) / 2, (i * (i + 3)) / 2 + 1);
    row[i] += LEAST_VARIANCE;
    return row;
  });
}

/** Rows of the inverse of Cholesky's factor of a matrix, up to the diagonal. The matrix is overwritten. */
function inverseOfFactor(matrix: readonly Float64Array[]): Float64Array[] {
  intoFactor(matrix);
  const inverse: Float64Array[] = [];
  for (const [i, row] of matrix.entries()) {
    const own = new Float64Array(i + 1);
    for (let k = 0; k < i; k++) for (let j = 0; j <= k; j++) own[j] -= row[k] * inverse[k][j];
    for (let j = 0; j < i; j++) own[j] /= row[i];
    own[i] = 1 / row[i];
    inverse.push(own);
  }
  return inverse;
}

/** The product of two columns of a lower triangle. */
function columnProduct(rows: readonly Float64Array[], a: number, b: number): number {
  let sum = 0;
  for (let i = Math.max(a, b); i < rows.length; i++) sum += rows[i][a] * rows[i][b];
  return sum;
}

function transposedTimes(rows: readonly Float64Array[], values: readonly number[]): Float64Array {
  const sums = new Float64Array(rows.length);
  for (const [i, row] of rows.entries()) for (let j = 0; j <= i; j++) sums[j] += row[j] * values[i];
  return sums;
}

/** Places of equal names. */
function groupsOf(names: readonly string[]): number[][] {
  const groups = new Map<string, number[]>();
  for (const [k, name] of names.entries()) groups.set(name, [...(groups.get(name) ?? []), k]);
  return [...groups.values()];
}
