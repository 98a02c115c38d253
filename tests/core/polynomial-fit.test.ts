import { describe, expect, it } from "vitest";
import { fitPolynomial } from "../../src/core/polynomial-fit.js";

const x = [0, 1, 2, 4, 7];
const y = [1, 3, 2, 5, 4];

describe("a polynomial of least squares", () => {
  // numpy.polyfit(x, y, degree) of NumPy 2.4.6, evaluated at 3 and at 10.
  it.each([
    [0, 3, 3],
    [1, 3.08441558, 6.03896104],
    [2, 3.91608392, 1.56643357],
    [3, 3.91296268, -6.19296887],
  ])("of degree %i agrees with NumPy: %d, %d", (degree, at3, at10) => {
    const fitted = fitPolynomial(x, y, degree);
    expect(fitted(3)).toBeCloseTo(at3, 6);
    expect(fitted(10)).toBeCloseTo(at10, 6);
  });

  it("passes through points that a polynomial of its degree made, at any spacing", () => {
    const cubic = (t: number): number => 2 - t + 0.5 * t * t - 0.1 * t ** 3;
    const places = [-3, -0.5, 0.2, 4, 5, 9];
    const fitted = fitPolynomial(places, places.map(cubic), 3);
    for (const t of [-4, 0, 1, 6.5, 12]) expect(fitted(t)).toBeCloseTo(cubic(t), 9);
  });

  it("has no more terms than points", () => {
    const line = fitPolynomial([1, 3], [2, 6], 5);
    expect(line(2)).toBeCloseTo(4, 12);
    expect(fitPolynomial([2], [7], 2)(100)).toBe(7);
  });
});
