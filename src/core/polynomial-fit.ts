/** Value of a fitted polynomial at x. */
export type Polynomial = (x: number) => number;

/**
 * Polynomial of least squares through (x, y), by orthogonal polynomials: G. E. Forsythe, "Generation and use of orthogonal
 * polynomials for data-fitting with a digital computer", J. SIAM 5 (1957), 74–88. With no more points than coefficients it passes
 * through all of them.
 *
 * @param x at least one value, all different
 * @param y as many values
 */
export function fitPolynomial(x: readonly number[], y: readonly number[], degree: number): Polynomial {
  const terms = Math.min(degree + 1, x.length);
  const alphas: number[] = [];
  const betas: number[] = [];
  const coefficients: number[] = [];
  let [before, here] = [x.map(() => 0), x.map(() => 1)];
  let squaresBefore = 1;
  for (let k = 0; k < terms; k++) {
    const squares = sum(here, (p) => p * p);
    coefficients.push(sum(here, (p, i) => p * y[i]) / squares);
    alphas.push(sum(here, (p, i) => p * p * x[i]) / squares);
    betas.push(k === 0 ? 0 : squares / squaresBefore);
    const next = here.map((p, i) => (x[i] - alphas[k]) * p - betas[k] * before[i]);
    [before, here, squaresBefore] = [here, next, squares];
  }
  return (at) => {
    let [previous, current, value] = [0, 1, 0];
    for (let k = 0; k < terms; k++) {
      value += coefficients[k] * current;
      [previous, current] = [current, (at - alphas[k]) * current - betas[k] * previous];
    }
    return value;
  };
}

function sum(values: readonly number[], of: (value: number, index: number) => number): number {
  return values.reduce((total, value, index) => total + of(value, index), 0);
}
