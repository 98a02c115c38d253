import { describe, expect, it } from "vitest";
import { defaultFilter, filterDefinitions, resampleFilters } from "../../src/3-resample/filters.js";

describe("resampling filters", () => {
  it.each(resampleFilters)("%s is even, and 0 beyond its support", (id) => {
    const { support, weight } = filterDefinitions[id];
    for (let x = 0; x < support; x += 0.0625) expect(weight(-x)).toBe(weight(x));
    for (const beyond of [1e-6, 0.25, 1, 10]) expect(weight(support + beyond)).toBe(0);
    expect(Math.abs(weight(support - 1e-3))).toBeGreaterThan(0);
  });

  it("has three lobes of Lanczos as the default", () => {
    expect(defaultFilter).toBe("lanczos3");
  });

  it("box gives a sample on its edge half", () => {
    // Value of a step at its midpoint; keeps sum over whole shifts at 1.
    expect(filterDefinitions.box.weight(0.49)).toBe(1);
    expect(filterDefinitions.box.weight(0.5)).toBe(0.5);
    expect(filterDefinitions.box.weight(0.51)).toBe(0);
  });

  // Keys (1981), "Cubic convolution interpolation for digital image processing", IEEE Trans. ASSP 29(6), equation 15:
  // 3/2 x³ − 5/2 x² + 1 below 1, −1/2 x³ + 5/2 x² − 4x + 2 below 2.
  it("catmull-rom is the cubic convolution of Keys", () => {
    const { weight } = filterDefinitions["catmull-rom"];
    for (let x = 0; x < 1; x += 0.125) expect(weight(x)).toBeCloseTo(1.5 * x ** 3 - 2.5 * x ** 2 + 1, 14);
    for (let x = 1; x < 2; x += 0.125)
      expect(weight(x)).toBeCloseTo(-0.5 * x ** 3 + 2.5 * x ** 2 - 4 * x + 2, 14);
  });

  // Mitchell and Netravali (1988) with B = C = 1/3, expanded by hand: (7x³ − 12x² + 16/3)/6 below 1,
  // (−7/3 x³ + 12x² − 20x + 32/3)/6 below 2; so 8/9 at 0 and 1/18 at 1.
  it("mitchell is the published compromise", () => {
    const { weight } = filterDefinitions.mitchell;
    expect(weight(0)).toBeCloseTo(8 / 9, 14);
    expect(weight(1)).toBeCloseTo(1 / 18, 14);
    for (let x = 0; x < 1; x += 0.125)
      expect(weight(x)).toBeCloseTo((7 * x ** 3 - 12 * x ** 2 + 16 / 3) / 6, 14);
    for (let x = 1; x < 2; x += 0.125) {
      expect(weight(x)).toBeCloseTo(((-7 / 3) * x ** 3 + 12 * x ** 2 - 20 * x + 32 / 3) / 6, 14);
    }
  });

  // sinc(x)·sinc(x/a) at points where both sines are known: 1/2 and 3/2.
  it("lanczos filters have the values of sinc times sinc", () => {
    const { lanczos2, lanczos3 } = filterDefinitions;
    expect(lanczos2.weight(0)).toBe(1);
    expect(lanczos2.weight(0.5)).toBeCloseTo((2 / Math.PI) * (Math.SQRT1_2 / (Math.PI / 4)), 14);
    expect(lanczos2.weight(1.5)).toBeCloseTo((-2 / (3 * Math.PI)) * (Math.SQRT1_2 / (0.75 * Math.PI)), 14);
    expect(lanczos3.weight(0)).toBe(1);
    expect(lanczos3.weight(0.5)).toBeCloseTo((2 / Math.PI) * (0.5 / (Math.PI / 6)), 14);
    expect(lanczos3.weight(1.5)).toBeCloseTo((-2 / (3 * Math.PI)) * (1 / (Math.PI / 2)), 14);
    for (const whole of [1, 2]) expect(Math.abs(lanczos3.weight(whole))).toBeLessThan(1e-15);
  });

  it.each(["box", "triangle", "catmull-rom", "mitchell"] as const)("%s sums to 1 over whole shifts", (id) => {
    for (let x = 0; x <= 1; x += 0.0625) {
      let sum = 0;
      for (let j = -3; j <= 3; j++) sum += filterDefinitions[id].weight(x + j);
      expect(sum).toBeCloseTo(1, 14);
    }
  });
});
