import { describe, expect, it } from "vitest";
import { type DensityTrial, kneeOf, usefulTones, worthCurve } from "../../../src/sweep/plan/useful-tones.js";

describe("useful tones", () => {
  it.each([
    // By hand: without an error all tones count, an error of √3 halves the steps between them.
    [11, 0, 11],
    [11, Math.sqrt(3), 6],
    [1, 5, 1],
    [5, 2 * Math.sqrt(2), 1 + 4 / 3],
  ])("of %d held at an error of %d L*: %d", (held, error, useful) => {
    expect(usefulTones(held, error)).toBeCloseTo(useful, 12);
  });
});

/** Trials of a parabola in the logarithms: ln useful = a + b·ln(d/100) + c·ln²(d/100). */
function trials(b: number, c: number, densities = [100, 150, 225, 337.5, 506.25, 759.375]): DensityTrial[] {
  return densities.map((linesPerInch) => {
    const x = Math.log(linesPerInch / 100);
    const useful = 4 * Math.exp(b * x + c * x * x);
    return { linesPerInch, tones: [0.15, 0.25, 0.5, 1].map((detailMm) => ({ detailMm, useful })) };
  });
}

describe("the worth of density", () => {
  // Twice the density adds b·ln 2 + c·(2x·ln 2 + ln² 2) to the logarithm; the knee is where that is ln 1.25.
  const kneeLinesPerInch = (b: number, c: number): number => {
    const { LN2 } = Math;
    return 100 * Math.exp((Math.log(1.25) - b * LN2 - c * LN2 * LN2) / (2 * c * LN2));
  };

  it.each([
    [1.5, -0.4],
    [1.2, -0.35],
  ])("is the closed form's for a parabola of %d and %d", (b, c) => {
    // The search goes in steps of half a percent.
    expect(worthCurve(trials(b, c), 0.25).worthAt(0.25).linesPerInch / kneeLinesPerInch(b, c)).toBeCloseTo(
      1,
      2,
    );
  });

  it("does not depend on which densities were tried", () => {
    const some = worthCurve(trials(1.5, -0.4), 0.25);
    const others = worthCurve(trials(1.5, -0.4, [90, 130, 300, 500, 900]), 0.25);
    expect(others.worthAt(0.25).linesPerInch / some.worthAt(0.25).linesPerInch).toBeCloseTo(1, 2);
    expect(others.usefulAt(400)).toBeCloseTo(some.usefulAt(400), 9);
  });

  it("moves little where trials scatter by 4 %", () => {
    const noisy = trials(1.5, -0.4).map(({ linesPerInch, tones }, k) => ({
      linesPerInch,
      tones: tones.map(({ detailMm, useful }) => ({
        detailMm,
        useful: useful * (k % 2 === 0 ? 1.04 : 0.96),
      })),
    }));
    const [scattered, exact] = [noisy, trials(1.5, -0.4)].map(
      (each) => worthCurve(each, 0.25).worthAt(0.25).linesPerInch,
    );
    expect(Math.abs(scattered / exact - 1)).toBeLessThan(0.06);
  });

  it("takes the geometric mean of details around the compared size, between the measured ones by their logarithms", () => {
    const sides = [0.15, 0.25, 0.5, 1];
    const tones = sides.map((detailMm) => ({ detailMm, useful: 3 / detailMm }));
    const flat = [100, 200, 400, 800].map((linesPerInch) => ({ linesPerInch, tones }));
    // Of 0.15, 0.25 and 0.5 mm: 3 / the cube root of their product.
    expect(worthCurve(flat, 0.25).usefulAt(300)).toBeCloseTo(3 / Math.cbrt(0.15 * 0.25 * 0.5), 9);
    // Of 0.24, 0.4 and 0.8 mm, where 3 / side is straight in the logarithms.
    expect(worthCurve(flat, 0.4).usefulAt(300)).toBeCloseTo(3 / Math.cbrt(0.24 * 0.4 * 0.8), 9);
    // Of 0.6, 1 and 2 mm, of which the last counts as 1 mm.
    expect(worthCurve(flat, 1).usefulAt(300)).toBeCloseTo(3 / Math.cbrt(0.6), 9);
  });
});

describe("a knee", () => {
  const range = [0, 3] as const;

  it("looks at the best within a doubling, not only at its end", () => {
    // A hill: before 1 − ln 1.25 the top is higher by ln 1.25 or more, although a doubling ends beyond it.
    const hill = (x: number): number => Math.min(x, 2 - x);
    const { at, isEnd } = kneeOf(hill, range, 0.25);
    expect(at).toBeCloseTo(1 - Math.log(1.25), 1);
    expect(isEnd).toBe(false);
  });

  it("is a doubling before the end where every doubling pays, and the start where none does", () => {
    const rising = kneeOf((x) => x, range, 0.25);
    expect(rising.at).toBeCloseTo(3 - Math.LN2, 1);
    expect(rising.isEnd).toBe(true);
    expect(kneeOf(() => 5, range, 0.25)).toEqual({ at: 0, isEnd: false });
    expect(kneeOf((x) => -x, range, 0.25)).toEqual({ at: 0, isEnd: false });
  });

  it("is the only place of a range shorter than a doubling", () => {
    expect(kneeOf((x) => x, [2, 2.3], 0.25)).toEqual({ at: 2, isEnd: true });
    expect(kneeOf((x) => x, [2, 2], 0.25)).toEqual({ at: 2, isEnd: true });
  });
});
