import { expect, it } from "vitest";
import { splineAt, splineCount, splineMeans } from "../../src/7-calibration/response-basis.js";
import { fitResponse } from "../../src/7-calibration/response-fit.js";
import { seededRandom } from "../../src/core/random.js";
import { askReference, hasReference } from "../support/reference.js";

const basis = { cells: 8, topDose: 1.2 };
const random = seededRandom(8);

/** Patterns with doses anywhere, and luminance factors that are far from monotone. */
const patterns = (wobble: number, darkens: boolean) =>
  Array.from({ length: 30 }, (_, k) => {
    const doses = Float64Array.from({ length: 5 }, () => (1.2 * (k + random())) / 30);
    const fall = 0.6 * Math.exp(-3 * doses[0]) + wobble * (random() - 0.5);
    return {
      means: splineMeans(basis, doses),
      luminance: darkens ? fall : 0.7 - fall,
      error: 0.01 * (1 + random()),
    };
  });

it("splines add up to 1 everywhere, and to a straight line with coefficients at their middles", () => {
  for (const dose of [0, 0.01, 0.15, 0.7, 1.19, 1.2]) {
    const means = splineMeans(basis, Float64Array.of(dose));
    expect(means.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 14);
    const middles = Float64Array.from({ length: splineCount(basis) }, (_, k) => ((k - 0.5) * 1.2) / 8);
    expect(splineAt(basis, middles, dose)).toBeCloseTo(dose, 14);
  }
  // A factor of the dose, and constant beyond the range.
  const straight = Float64Array.from({ length: splineCount(basis) }, (_, k) => k);
  expect(splineMeans(basis, Float64Array.of(0.4), 2)).toEqual(splineMeans(basis, Float64Array.of(0.8)));
  expect(splineAt(basis, straight, 3)).toBe(splineAt(basis, straight, 1.2));
});

it.skipIf(!hasReference()).each([
  ["falling", true],
  ["rising", false],
] as const)("a %s response is that of SciPy's lsq_linear under the same constraints", (_, darkens) => {
  const roughness = 0.05;
  const cases = [0.02, 0.3, 1].map((wobble) => patterns(wobble, darkens));
  const references = askReference<number[][]>("scipy_values.py", {
    task: "monotone",
    cases: cases.map((each) => ({
      rows: each.map(({ means }) => [...means]),
      values: each.map(({ luminance }) => luminance),
      errors: each.map(({ error }) => error),
      ...{ roughness, darkens },
    })),
  });
  cases.forEach((each, n) => {
    const { coefficients } = fitResponse(each, { darkens, roughness });
    references[n].forEach((value, k) => {
      expect(coefficients[k], `case ${n}, spline ${k}`).toBeCloseTo(value, 5);
    });
    const steps = [...coefficients].slice(1).map((value, k) => value - coefficients[k]);
    expect(steps.every((step) => (darkens ? step <= 1e-12 : step >= -1e-12))).toBe(true);
    expect(Math.min(...coefficients)).toBeGreaterThanOrEqual(0);
  });
});

it("residuals are in standard errors", () => {
  const each = patterns(0.1, true);
  const { coefficients, residuals } = fitResponse(each, { darkens: true, roughness: 0.05 });
  each.forEach(({ means, luminance, error }, k) => {
    const fitted = means.reduce((sum, share, i) => sum + share * coefficients[i], 0);
    expect(residuals[k]).toBeCloseTo((luminance - fitted) / error, 9);
  });
});
