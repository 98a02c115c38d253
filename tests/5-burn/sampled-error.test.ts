import { describe, expect, it } from "vitest";
import { visualErrorOf as errorOf, type Stratum } from "../../src/5-burn/sampled-error.js";
import type { TileSums } from "../../src/5-burn/tile-sums.js";
import { seededRandom } from "../../src/core/random.js";

const piece = (pixels: number, mean: number, meanSquare: number, stratum = 0): TileSums => ({
  ...{ stratum, pixels, wanted: 0, wantedSquares: 0, cross: [0, 0, 0] },
  predictions: [{ errors: pixels * mean, squares: pixels * meanSquare, withWanted: 0 }],
});

const visualErrorOf = (tiles: readonly TileSums[], judged: number) =>
  errorOf(tiles, [{ area: 1, judged }], 0);

describe("visual error from pieces", () => {
  it("weighs them by their pixels", () => {
    const error = visualErrorOf([piece(100, 1, 4), piece(300, -1, 8)], 1);
    expect(error.rms).toBeCloseTo(Math.sqrt(7), 12);
    expect(error.bias).toBeCloseTo(-0.5, 12);
  });

  it("is certain where all of the picture was judged", () => {
    const error = visualErrorOf([piece(100, 1, 4), piece(300, -1, 8)], 1);
    expect([error.rmsStandardError, error.biasStandardError]).toEqual([0, 0]);
  });

  it("is unknown from one piece of several", () => {
    const error = visualErrorOf([piece(100, 1, 4)], 0.3);
    expect([error.rmsStandardError, error.biasStandardError]).toEqual([Infinity, Infinity]);
  });

  it("has the standard error of a mean: s/√n · √(1 − share)", () => {
    // Mean squares 1, 2, 3, 6: mean 3, s² = (4 + 1 + 0 + 9)/3; biases 0, 0, 0, 4: mean 1, s² = 12/3.
    const pieces = [1, 2, 3, 6].map((square, n) => piece(50, n === 3 ? 4 : 0, square));
    const error = visualErrorOf(pieces, 0.25);
    expect(error.biasStandardError).toBeCloseTo(Math.sqrt((4 / 4) * 0.75), 12);
    expect(error.rmsStandardError).toBeCloseTo(Math.sqrt((14 / 3 / 4) * 0.75) / (2 * Math.sqrt(3)), 12);
  });

  it("covers the truth about as often as a normal error would", () => {
    // Eight of forty pieces drawn at random, a thousand times: within two standard errors in 95 % of cases; Student's t of
    // seven degrees of freedom makes that 91 %.
    const random = seededRandom(11);
    const all = Array.from({ length: 40 }, () => piece(100, random(), 4 + 2 * random()));
    const truth = visualErrorOf(all, 1);
    let within = 0;
    for (let n = 0; n < 1000; n++) {
      const drawn = [...all]
        .map((each) => ({ each, key: random() }))
        .sort((a, b) => a.key - b.key)
        .slice(0, 8)
        .map(({ each }) => each);
      const error = visualErrorOf(drawn, 0.2);
      if (Math.abs(error.rms - truth.rms) < 2 * error.rmsStandardError) within++;
    }
    expect(within).toBeGreaterThan(870);
    expect(within).toBeLessThan(970);
  });

  it("weighs strata by their area, however much of them was judged", () => {
    // By hand: 0.9 · 4 + 0.1 · 24 = 6, and 0.9 · 1 − 0.1 · 2 = 0.7.
    const strata: Stratum[] = [
      { area: 0.9, judged: 0.2 },
      { area: 0.1, judged: 0.8 },
    ];
    const tiles = [piece(100, 1, 3), piece(100, 1, 5), piece(400, -2, 20, 1), piece(400, -2, 28, 1)];
    const error = errorOf(tiles, strata, 0);
    expect(error.rms).toBeCloseTo(Math.sqrt(6), 12);
    expect(error.bias).toBeCloseTo(0.7, 12);
    // Squares 3 and 5: s² = 2, so s²/n · 0.8 = 0.8; squares 20 and 28: s² = 32, so 32/2 · 0.2 = 3.2.
    const standardError = Math.sqrt(0.9 ** 2 * 0.8 + 0.1 ** 2 * 3.2);
    expect(error.rmsStandardError).toBeCloseTo(standardError / (2 * Math.sqrt(6)), 12);
  });
});
