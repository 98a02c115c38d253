import { describe, expect, it } from "vitest";
import { createTarget } from "../../src/5-burn/target.js";

const range = { darkest: 0.08, lightest: 0.55 };

/** CIE 1976 lightness and its inverse (CIE 15), written out again. */
const lightness = (y: number) => (y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (29 / 3) ** 3 * y);
const luminance = (l: number) => (l > 8 ? ((l + 16) / 116) ** 3 : l / (29 / 3) ** 3);

const photo = [0, 0.001, 0.0088, 0.0089, 0.05, 0.18, 0.5, 0.9, 1];

describe("target", () => {
  it("by lightness lays the photo's L* over the job's range of L* (model, section 4)", () => {
    const target = createTarget("lightness", range);
    const [low, high] = [lightness(0.08), lightness(0.55)];
    for (const y of photo) {
      expect(target(y)).toBeCloseTo(luminance(low + ((high - low) * lightness(y)) / 100), 12);
    }
    // Middle grey of the photo, L* 50, is the middle between L* 33.98288 and 79.04127 (arithmetic).
    expect(lightness(target(luminance(50)))).toBeCloseTo((33.98288 + 79.04127) / 2, 4);
  });

  it("by luminance keeps the photo's steps of light", () => {
    const target = createTarget("luminance", range);
    for (const y of photo) expect(target(y)).toBeCloseTo(0.08 + 0.47 * y, 12);
  });

  it("meets both ends in both mappings, and rises between", () => {
    for (const toneMap of ["lightness", "luminance"] as const) {
      const target = createTarget(toneMap, range);
      expect(target(0)).toBeCloseTo(0.08, 12);
      expect(target(1)).toBeCloseTo(0.55, 12);
      for (let i = 1; i <= 1000; i++) expect(target(i / 1000)).toBeGreaterThan(target((i - 1) / 1000));
    }
  });

  it("is the photo itself where every tone can be reached", () => {
    const target = createTarget("lightness", { darkest: 0, lightest: 1 });
    for (const y of photo) expect(target(y)).toBeCloseTo(y, 12);
  });
});
