import { expect, it } from "vitest";
import { type Equation, nonnegativeLeastSquares } from "../../src/core/nonnegative-least-squares.js";
import { seededRandom } from "../../src/core/random.js";
import { askReference, hasReference } from "../support/reference.js";

const equations = (rows: readonly (readonly number[])[], values: readonly number[]): Equation[] =>
  rows.map((coefficients, i) => ({ coefficients, value: values[i] }));

it("solves by hand: x + y = 1, x − y = 3 has x = 2 and y = −1, so y stays at 0 and x is the mean of 1 and 3", () => {
  const rows = [
    [1, 1],
    [1, -1],
  ];
  const [x, y] = nonnegativeLeastSquares(equations(rows, [1, 3]));
  expect(x).toBeCloseTo(2, 12);
  expect(y).toBe(0);
  // Without a bound in the way both are free: x + y = 3, x − y = 1.
  expect([...nonnegativeLeastSquares(equations(rows, [3, 1]))]).toEqual([
    expect.closeTo(2, 12),
    expect.closeTo(1, 12),
  ]);
});

it("keeps everything at 0 if any growth would raise the error", () => {
  expect([...nonnegativeLeastSquares(equations([[1, 2]], [-1]))]).toEqual([0, 0]);
});

it.skipIf(!hasReference())("is SciPy's nnls", () => {
  const random = seededRandom(5);
  const cases = Array.from({ length: 40 }, (_, n) => {
    const unknowns = 1 + (n % 12);
    const rows = Array.from({ length: unknowns + (n % 5) }, () =>
      Array.from({ length: unknowns }, () => random() - 0.4),
    );
    return { rows, values: rows.map(() => random() - 0.3) };
  });
  const references = askReference<number[][]>("scipy_values.py", { task: "nnls", cases });
  cases.forEach(({ rows, values }, n) => {
    const solved = nonnegativeLeastSquares(equations(rows, values));
    references[n].forEach((value, i) => {
      expect(Math.abs(solved[i] - value), `case ${n}`).toBeLessThan(1e-7 * Math.max(1, ...references[n]));
    });
  });
});
