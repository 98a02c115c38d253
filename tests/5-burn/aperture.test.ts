import { describe, expect, it } from "vitest";
import { apertureMeans, emptySums, sumFromCorner } from "../../src/5-burn/aperture.js";
import { seededRandom } from "../../src/core/random.js";
import { meanOver, randomBits, worstDifference } from "./burning.js";
import { directApertureMeans, everyPlace, recurrentPlaces } from "./direct-apertures.js";

function meansOf(plane: Float32Array, columns: number, along: number, across: number): Float64Array {
  const sums = emptySums(columns, plane.length / columns);
  sumFromCorner(plane, sums);
  return apertureMeans(sums, along, across);
}

function deviationOf(values: ArrayLike<number>): number {
  const mean = meanOver(values);
  return Math.sqrt(meanOver(Array.from(values, (value) => (value - mean) ** 2)));
}

describe("means in apertures", () => {
  const columns = 31;
  const rows = 22;
  const random = seededRandom(3);
  const plane = Float32Array.from({ length: columns * rows }, () => random());

  it.each([
    [1, 1],
    [4, 5],
    [2.5, 3.3],
    [7.75, 5.5],
    [31, 22],
    [0.6, 0.4],
    [31 / 3, 22 / 7],
    [30.2, 21.9],
    [4 + 1e-12, 22 + 1e-12],
  ])("of %d × %d pixels are those of a direct sum at each place", (along, across) => {
    const places = recurrentPlaces(columns, rows, along, across);
    const expected = directApertureMeans(plane, columns, along, across, places);
    expect(worstDifference(meansOf(plane, columns, along, across), expected)).toBeLessThan(1e-9);
  });

  it("do not exist where an aperture does not fit", () => {
    expect(meansOf(plane, columns, 32, 5).length).toBe(0);
    expect(meansOf(plane, columns, 5, 22.1).length).toBe(0);
  });

  it("of sums in used room are those of new room", () => {
    const sums = emptySums(columns, rows);
    sumFromCorner(plane, sums);
    sumFromCorner(
      plane.map((value) => 1 - value),
      sums,
    );
    sumFromCorner(plane, sums);
    expect(apertureMeans(sums, 4, 5)).toEqual(meansOf(plane, columns, 4, 5));
  });

  it("of independent random bits spread by (Rw − Rk)·√(a(1 − a))/m", () => {
    // Bernoulli statistics (E. W. H. Selwyn, Photogr. J. 75, 571 (1935): σ·√area is constant). Rw 0.8, Rk 0.04, a 0.5,
    // m 8: 0.0475. From 1000 cells σ is known within 2.2 %, so 8 % is over three standard errors.
    const side = 800;
    const bits = randomBits(side, side, 0.5, 21);
    const plane = Float32Array.from(bits, (bit) => (bit ? 0.04 : 0.8));
    const means = meansOf(plane, side, 8, 8);
    expect(Math.abs(meanOver(means) - 0.42)).toBeLessThan(0.005);
    expect(Math.abs(deviationOf(means) / 0.0475 - 1)).toBeLessThan(0.08);
  });

  // Periods at which apertures side by side see one phase, or two opposite ones, or one of few.
  it.each([
    [4, 1],
    [8, 4],
    [8, 3.996],
    [7.5, 5],
    [6, 4],
    [12.1, 4],
  ])("see all phases of a screen: period %d, side %d pixels", (period, side) => {
    const wave = (at: number) => Math.cos((2 * Math.PI * (at + 0.3)) / period);
    const screen = Float32Array.from(
      { length: 96 * 96 },
      (_, i) => 0.5 + 0.2 * wave(i % 96) + 0.2 * wave(Math.floor(i / 96)),
    );
    const all = directApertureMeans(screen, 96, side, side, everyPlace(96, 96, side, side));
    const found = deviationOf(meansOf(screen, 96, side, side));
    expect(deviationOf(all)).toBeGreaterThan(0.01);
    expect(Math.abs(found / deviationOf(all) - 1)).toBeLessThan(0.02);
  });
});
