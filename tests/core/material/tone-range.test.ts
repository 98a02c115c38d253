import { describe, expect, it } from "vitest";
import {
  byToneRange,
  doseAtLightnessShare,
  shapeOf,
  toneRangeOf,
} from "../../../src/core/material/tone-range.js";
import { gradualPoints, steepPoints } from "../../support/materials.js";

/** L* 100 to 0 in equal steps of a dose that grows by this power: CIE 15, inverse of L* above 8 and below. */
const straightLightness = (power: number) =>
  Array.from({ length: 201 }, (_, i) => {
    const lightness = 100 - i / 2;
    const y = lightness > 8 ? ((lightness + 16) / 116) ** 3 : (lightness * 27) / 24389;
    return [(i / 200) ** power, y] as const;
  });

describe("dose at a share of the change in lightness", () => {
  it("is the half-way dose of a response that is linear in L*", () => {
    for (const share of [0.1, 0.25, 0.5, 0.9]) {
      expect(Math.abs(doseAtLightnessShare(straightLightness(1), share) - share)).toBeLessThan(2e-4);
    }
  });
});

describe("the tone range", () => {
  it("is that of a response known in closed form: dose = share^p, so (0.9^p − 0.1^p)/0.5^p", () => {
    for (const power of [0.3, 0.5, 1, 2]) {
      const range = (0.9 ** power - 0.1 ** power) / 0.5 ** power;
      expect(Math.abs(toneRangeOf(straightLightness(power)) / range - 1)).toBeLessThan(2e-3);
    }
  });

  it("does not depend on the unit of dose", () => {
    const percent = gradualPoints.map(([dose, luminance]) => [100 * dose, luminance] as const);
    expect(toneRangeOf(percent)).toBeCloseTo(toneRangeOf(gradualPoints), 9);
  });

  it("calls the test materials by their names", () => {
    expect(shapeOf(toneRangeOf(steepPoints))).toBe("steep");
    expect(shapeOf(toneRangeOf(gradualPoints))).toBe("gradual");
    expect(shapeOf(0.999)).toBe("steep");
    expect(shapeOf(1)).toBe("gradual");
  });
});

describe("a figure by tone range", () => {
  const figure = (range: number) => byToneRange(range, { steep: 1.15, gradual: 2 });

  it("is that of the shape far from the border, and half-way on it", () => {
    expect(figure(0.3)).toBe(1.15);
    expect(figure(0.869)).toBe(1.15);
    expect(figure(1.151)).toBe(2);
    expect(figure(9)).toBe(2);
    expect(figure(1)).toBeCloseTo(1.575, 12);
    // A quarter of the way in the logarithm: 1.15^(−1/2).
    expect(figure(1 / Math.sqrt(1.15))).toBeCloseTo(1.15 + 0.85 / 4, 12);
  });

  it("never leaps: a thousandth in the range moves the density by no more than a fortieth of the whole way", () => {
    for (let range = 0.8; range < 1.25; range *= 1.001) {
      expect(figure(1.001 * range) - figure(range)).toBeGreaterThanOrEqual(0);
      // 0.85 · ln 1.001 / (2 ln 1.15)
      expect(figure(1.001 * range) - figure(range)).toBeLessThan(0.00304);
    }
  });
});
