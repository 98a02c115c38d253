import { describe, expect, it } from "vitest";
import { apertureMeans } from "../../src/5-burn/aperture.js";
import { seededRandom } from "../../src/core/random.js";
import { meanOver, randomBits, worstDifference } from "./burning.js";
import { directApertureMeans } from "./direct-apertures.js";

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
  ])("of %d × %d pixels are those of a direct sum, row by row", (along, across) => {
    const means = apertureMeans(plane, columns, rows, along, across);
    const expected = directApertureMeans(plane, columns, rows, along, across);
    expect(means.length).toBe(Math.floor(columns / along + 1e-9) * Math.floor(rows / across + 1e-9));
    expect(worstDifference(means, expected)).toBeLessThan(1e-9);
  });

  it("leave out apertures that do not fit", () => {
    expect(apertureMeans(plane, columns, rows, 10, 10).length).toBe(3 * 2);
    expect(apertureMeans(plane, columns, rows, 32, 5).length).toBe(0);
  });

  it("of independent random bits spread by (Rw − Rk)·√(a(1 − a))/m", () => {
    // Bernoulli statistics (E. W. H. Selwyn, Photogr. J. 75, 571 (1935): σ·√area is constant). Rw 0.8, Rk 0.04, a 0.5,
    // m 8: 0.0475. From 10⁴ cells σ is known within 0.7 %, so 3 % is four standard errors.
    const side = 800;
    const bits = randomBits(side, side, 0.5, 21);
    const means = apertureMeans(
      Float32Array.from(bits, (bit) => (bit ? 0.04 : 0.8)),
      side,
      side,
      8,
      8,
    );
    const mean = meanOver(means);
    const sigma = Math.sqrt(meanOver(means.map((value) => (value - mean) ** 2)));
    expect(Math.abs(mean - 0.42)).toBeLessThan(0.002);
    expect(Math.abs(sigma / 0.0475 - 1)).toBeLessThan(0.03);
  });
});
