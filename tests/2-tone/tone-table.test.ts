import { describe, expect, it } from "vitest";
import type { ToneAdjustments } from "../../src/2-tone/adjustments.js";
import { AS_IS } from "../../src/2-tone/input-range.js";
import { toneTable } from "../../src/2-tone/tone-table.js";
import { checkNumber, checkValue } from "../support/check-values.js";

const untouched: ToneAdjustments = {
  autoLevels: false,
  clipPercent: 0,
  brightness: 0,
  contrast: 0,
  gamma: 1,
  negative: false,
  localContrast: 0,
  sharpen: 0,
};

const table = (changes: Partial<ToneAdjustments>, levels = AS_IS) =>
  toneTable(levels, { ...untouched, ...changes });

/** CIE 1976 lightness of a table's entry, and the code of a lightness (CIE 15, IEC 61966-2-1). */
const lightness = (y: number) => (y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (29 / 3) ** 3 * y);
function codeOf(l: number): number {
  const y = l > 8 ? ((l + 16) / 116) ** 3 : l / (29 / 3) ** 3;
  return Math.round(65535 * (y <= 0.0031308 ? 12.92 * y : 1.055 * y ** (1 / 2.4) - 0.055));
}

/** L* that the table makes of an L*: within the 1/65535 of a code. */
const adjusted = (changes: Partial<ToneAdjustments>, l: number) => lightness(table(changes)[codeOf(l)]);

describe("tone table", () => {
  it("is the sRGB transfer where nothing is adjusted (IEC 61966-2-1, check values)", () => {
    const linear = table({});
    expect(linear.length).toBe(65536);
    for (const code of [1, 10, 11, 64, 128, 192, 254]) {
      const id = `srgb.linear.${code}`;
      expect(checkValue(id).inputs.code).toBe(code);
      expect(Math.abs(linear[257 * code] - checkNumber(id))).toBeLessThan(1e-7);
    }
    expect([linear[0], linear[65535]]).toEqual([0, 1]);
  });

  it("stretches levels linearly in light, and cuts what lies outside", () => {
    const stretched = table({}, { black: 0.1, white: 0.6 });
    const linear = table({});
    for (const code of [0, 10000, 30000, 45000, 60000, 65535]) {
      const expected = Math.min(1, Math.max(0, (linear[code] - 0.1) / 0.5));
      expect(stretched[code]).toBeCloseTo(expected, 6);
    }
    expect([stretched[0], stretched[65535]]).toEqual([0, 1]);
  });

  it.each([
    [10, 40, 50],
    [-25, 40, 15],
    [-50, 40, 0],
    [70, 40, 100],
  ])("brightness %d takes L* %d to %d", (brightness, before, expected) => {
    expect(adjusted({ brightness }, before)).toBeCloseTo(expected, 1);
  });

  it.each([
    [100, 40, 30],
    [100, 50, 50],
    [100, 90, 100],
    [-100, 40, 45],
    [-100, 100, 75],
    // Half way to the double: a slope of √2.
    [50, 40, 35.858],
  ])("contrast %d takes L* %d to %d", (contrast, before, expected) => {
    expect(adjusted({ contrast }, before)).toBeCloseTo(expected, 1);
  });

  it.each([
    // 100·(L*/100)^(1/γ).
    [2, 25, 50],
    [0.5, 50, 25],
    [2, 81, 90],
    [3, 0, 0],
    [3, 100, 100],
  ])("gamma %d takes L* %d to %d", (gamma, before, expected) => {
    expect(adjusted({ gamma }, before)).toBeCloseTo(expected, 1);
  });

  it("works in the order levels, gamma, contrast, brightness", () => {
    // L* 25 → 50 by gamma 2 → 50 by contrast → 60; in another order it would not be 60.
    expect(adjusted({ gamma: 2, contrast: 100, brightness: 10 }, 25)).toBeCloseTo(60, 1);
  });

  it("does nothing by halves: a gamma of all but 1 is all but the plain table", () => {
    const plain = table({});
    table({ gamma: 1 + 1e-9 }).forEach((value, code) => {
      if (code % 97 === 0) expect(Math.abs(value - plain[code])).toBeLessThan(2e-7);
    });
  });

  it.each([
    { gamma: 0.1 },
    { gamma: 10 },
    { contrast: 100, brightness: -30 },
    { contrast: -100, brightness: 100, gamma: 0.3 },
  ])("never falls, and keeps within 0..1: %j", (changes) => {
    const values = table(changes, { black: 0.05, white: 0.8 });
    let falls = 0;
    for (let code = 1; code < values.length; code++) if (values[code] < values[code - 1]) falls++;
    expect(falls).toBe(0);
    expect(values[0]).toBeGreaterThanOrEqual(0);
    expect(values[65535]).toBeLessThanOrEqual(1);
  });

  it("turns L* into 100 − L* for a negative, after all else", () => {
    for (const l of [0, 12, 50, 71, 100]) {
      expect(adjusted({ negative: true }, l)).toBeCloseTo(100 - l, 2);
      expect(adjusted({ negative: true, brightness: 10 }, l)).toBeCloseTo(100 - Math.min(100, l + 10), 2);
    }
  });
});
