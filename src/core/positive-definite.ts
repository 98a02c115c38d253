/** Smallest square of a pivot as a share of its diagonal: rounding must not make it negative where columns are nearly dependent. */
const MIN_PIVOT = 1e-14;

/** Solves matrix · x = right by Cholesky's factors. The matrix is symmetric and positive definite, and is overwritten. */
export function solvePositiveDefinite(matrix: number[][], right: readonly number[]): number[] {
  const x = [...right];
  intoFactor(matrix);
  for (let i = 0; i < x.length; i++) x[i] = (x[i] - dot(matrix[i], x, i)) / matrix[i][i];
  for (let i = x.length - 1; i >= 0; i--) {
    for (let j = i + 1; j < x.length; j++) x[i] -= matrix[j][i] * x[j];
    x[i] /= matrix[i][i];
  }
  return x;
}

/** Overwrites the lower triangle of a symmetric, positive definite matrix with Cholesky's factor F: F · Fᵀ is the matrix. */
export function intoFactor(matrix: readonly (number[] | Float64Array)[]): void {
  for (let i = 0; i < matrix.length; i++) {
    const row = matrix[i];
    for (let j = 0; j < i; j++) row[j] = (row[j] - dot(row, matrix[j], j)) / matrix[j][j];
    row[i] = Math.sqrt(Math.max(row[i] - dot(row, row, i), MIN_PIVOT * row[i]));
  }
}

export function dot(a: ArrayLike<number>, b: ArrayLike<number>, count = a.length): number {
  let sum = 0;
  for (let i = 0; i < count; i++) sum += a[i] * b[i];
  return sum;
}
