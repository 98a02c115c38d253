import { describe, expect, it } from "vitest";
import { EyeFilter } from "../../src/5-burn/eye-filter.js";
import { seededRandom } from "../../src/core/random.js";
import { worstDifference } from "./burning.js";

const side = 64;
const pitch = { alongMm: 0.05, acrossMm: 0.08 };
const viewing = { distanceMm: 300, luminanceCdPerM2: 10 };

/** Two pictures as the filter wants them: one real, one imaginary. */
function paired(first: (x: number, y: number) => number, second: (x: number, y: number) => number) {
  const pair = new Float64Array(2 * side * side);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      pair[2 * (y * side + x)] = first(x, y);
      pair[2 * (y * side + x) + 1] = second(x, y);
    }
  }
  return pair;
}

function filtered(first: (x: number, y: number) => number, second: (x: number, y: number) => number) {
  const pair = paired(first, second);
  new EyeFilter(side, pitch, viewing).filterPair(pair);
  return {
    first: pair.filter((_, i) => i % 2 === 0),
    second: pair.filter((_, i) => i % 2 === 1),
  };
}

/** Different noise on every call with another seed. */
function noise(seed: number): (x: number, y: number) => number {
  const random = seededRandom(seed);
  const values = Float64Array.from({ length: side * side }, () => random());
  return (x, y) => values[y * side + x];
}

const nothing = () => 0;

describe("the eye's filter", () => {
  it("leaves a constant as it is", () => {
    const seen = filtered(
      () => 0.37,
      () => 0.62,
    );
    for (const value of seen.first) expect(Math.abs(value - 0.37)).toBeLessThan(1e-12);
    for (const value of seen.second) expect(Math.abs(value - 0.62)).toBeLessThan(1e-12);
  });

  // Näsänen (1984): exp(−f/k), k = 0.525 ln 10 + 3.91 = 5.118857 cycles per degree; at 300 mm one degree spans
  // 2 · 300 · tan 0.5° = 5.236121 mm (arithmetic).
  it.each([
    [1, 0],
    [5, 0],
    [0, 3],
    [0, 12],
    [7, 4],
    [32, 0],
    [20, 31],
  ])("leaves exp(−f/k) of a wave with %d cycles along and %d across", (m, n) => {
    const wave = (x: number, y: number) => Math.cos((2 * Math.PI * (m * x + n * y)) / side);
    const seen = filtered(wave, nothing).first;
    const perMm = Math.hypot(m / (side * 0.05), n / (side * 0.08));
    const left = Math.exp((-perMm * 5.236121) / 5.118857);
    const expected = Float64Array.from(seen, (_, i) => left * wave(i % side, Math.floor(i / side)));
    expect(worstDifference(seen, expected)).toBeLessThan(1e-6 * left + 1e-13);
  });

  it("filters each of two pictures as if it were alone", () => {
    const together = filtered(noise(1), noise(2));
    expect(worstDifference(together.first, filtered(noise(1), nothing).first)).toBeLessThan(1e-12);
    expect(worstDifference(together.second, filtered(noise(2), nothing).first)).toBeLessThan(1e-12);
  });

  it("is linear", () => {
    const [a, b] = [noise(3), noise(4)];
    const sum = filtered((x, y) => 2 * a(x, y) - 3 * b(x, y), nothing).first;
    const parts = filtered(a, b);
    const expected = parts.first.map((value, i) => 2 * value - 3 * parts.second[i]);
    expect(worstDifference(sum, expected)).toBeLessThan(1e-12);
  });

  it("does not move a point: what it makes of one is even about it", () => {
    const seen = filtered((x, y) => (x === 20 && y === 30 ? 1 : 0), nothing).first;
    const at = (x: number, y: number) => seen[((y + side) % side) * side + ((x + side) % side)];
    for (const [dx, dy] of [
      [1, 0],
      [0, 1],
      [3, 2],
      [7, 11],
    ]) {
      expect(at(20 + dx, 30 + dy)).toBeCloseTo(at(20 - dx, 30 - dy), 13);
      expect(at(20 + dx, 30 + dy)).toBeLessThan(at(20, 30));
    }
  });

  it("sees more detail from nearer and in better light", () => {
    const fine = (x: number) => Math.cos((2 * Math.PI * 16 * x) / side);
    const contrast = (distanceMm: number, luminanceCdPerM2: number) => {
      const pair = paired(fine, nothing);
      new EyeFilter(side, pitch, { distanceMm, luminanceCdPerM2 }).filterPair(pair);
      return pair[0];
    };
    expect(contrast(150, 10)).toBeGreaterThan(contrast(300, 10));
    expect(contrast(300, 100)).toBeGreaterThan(contrast(300, 10));
  });
});
