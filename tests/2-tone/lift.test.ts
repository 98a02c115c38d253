import { describe, expect, it } from "vitest";
import { type GuidedBase, guidedBase } from "../../src/2-tone/guided-base.js";
import { liftOf, liftRow } from "../../src/2-tone/lift.js";
import { seededRandom } from "../../src/core/random.js";

/** L* of a luminance and back (CIE 15), written out again. */
const lightness = (y: number) => (y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (29 / 3) ** 3 * y);
const luminance = (l: number) => (l > 8 ? ((l + 16) / 116) ** 3 : l / (29 / 3) ** 3);

/** The same surroundings everywhere. */
const surrounded = (slope: number, offset: number): GuidedBase => ({
  ...{ columns: 1, rows: 1, closed: false },
  slope: Float32Array.of(slope),
  offset: Float32Array.of(offset),
});

const lifted = (
  values: readonly number[],
  strength: number,
  base: GuidedBase,
  mean = 60,
  negative = false,
) => {
  const row = Float32Array.from(values, luminance);
  liftRow(row, 0, 1, liftOf(strength, base, mean), negative);
  return Array.from(row, lightness);
};
const SCALE = Array.from({ length: 401 }, (_, i) => i / 4);

describe("the lift of dark parts", () => {
  it("is a power of L* whose exponent is 1/3 in black surroundings and 1 in those of L* 50 or more", () => {
    // L* 20: 100 · 0.2^(3^-1) = 58.48, and in surroundings of L* 25 100 · 0.2^(3^-½) = 39.48.
    expect(lifted([20], 1, surrounded(0, 0))[0]).toBeCloseTo(58.48, 1);
    expect(lifted([20], 1, surrounded(0, 25))[0]).toBeCloseTo(39.48, 1);
    expect(lifted([20], 0.5, surrounded(0, 0))[0]).toBeCloseTo(39.48, 1);
    for (const around of [50, 80]) expect(lifted([20], 1, surrounded(0, around))[0]).toBeCloseTo(20, 4);
  });

  it("leaves everything alone at 0, to the bit", () => {
    const random = seededRandom(1);
    const row = Float32Array.from({ length: 500 }, () => random());
    const before = row.slice();
    liftRow(row, 0, 1, liftOf(0, surrounded(0, 10), 60));
    for (const [i, value] of row.entries()) expect(Math.abs(value - before[i])).toBeLessThan(1e-6);
  });

  it.each([0.3, 1])("keeps black, white and the order of tones in every surrounding, at %d", (strength) => {
    for (const slope of [0, 0.3, 0.6, 0.9, 1]) {
      for (const offset of [0, 5, 20, 45, 90].map((lightness) => (1 - slope) * lightness)) {
        for (const mean of [15, 40, 90]) {
          const out = lifted(SCALE, strength, surrounded(slope, offset), mean);
          expect(out[0]).toBe(0);
          expect(out[out.length - 1]).toBeCloseTo(100, 3);
          for (let i = 1; i < out.length; i++) expect(out[i]).toBeGreaterThan(out[i - 1]);
          for (const [i, value] of out.entries()) expect(value).toBeGreaterThan(SCALE[i] - 1e-3);
        }
      }
    }
  });

  it("grows with the strength", () => {
    const at = [0, 0.25, 0.5, 0.75, 1].map((strength) => lifted([18], strength, surrounded(0, 20))[0]);
    for (let i = 1; i < at.length; i++) expect(at[i]).toBeGreaterThan(at[i - 1] + 2);
  });

  it("leaves a picture alone that is dark throughout: its mean is the tone to lift to", () => {
    for (const mean of [5, 20]) expect(lifted([mean], 1, surrounded(0, mean), mean)[0]).toBeCloseTo(mean, 3);
  });

  it("darkens what a negative shows light", () => {
    const [dark] = lifted([20], 1, surrounded(0, 20));
    expect(lifted([80], 1, surrounded(0, 20), 60, true)[0]).toBeCloseTo(100 - dark, 3);
  });
});

/** A step from one L* to another in the middle of a picture, with the base from a picture four times smaller. */
function step(from: number, to: number, strength: number): Float32Array {
  const [columns, rows] = [256, 64];
  const at = (x: number, count: number) => (x < count / 2 ? from : to);
  const small = Float32Array.from({ length: columns * rows }, (_, i) => at(i % columns, columns));
  const base = guidedBase(small, { columns, rows, closed: false });
  const row = Float32Array.from({ length: 4 * columns }, (_, x) => luminance(at(x, 4 * columns)));
  liftRow(row, 128, 4 * rows, liftOf(strength, base, (from + to) / 2));
  return row.map(lightness);
}

describe("a step from dark to light", () => {
  it.each([
    [20, 85],
    [10, 95],
    [25, 70],
  ])(
    "from L* %d to %d has no halo on the light side, and less than 4 L* of it on the dark side",
    (from, to) => {
      const out = step(from, to, 1);
      const [dark, light] = [out.subarray(0, 512), out.subarray(512)];
      for (const value of light) expect(value).toBeCloseTo(to, 3);
      expect(Math.max(...dark) - dark[0]).toBeLessThan(0.01);
      expect(dark[0] - Math.min(...dark)).toBeLessThan(4);
      expect(dark[0]).toBeGreaterThan(from + 10);
    },
  );
});
