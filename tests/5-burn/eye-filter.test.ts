import FFT from "fft.js";
import { describe, expect, it } from "vitest";
import { BAND_ROWS, EyeFilter } from "../../src/5-burn/eye-filter.js";
import { seededRandom } from "../../src/core/random.js";
import { plainMemory, simdMemory, worstDifference } from "./burning.js";

const side = 64;
const pitch = { alongMm: 0.05, acrossMm: 0.08 };
const viewing = { distanceMm: 300, luminanceCdPerM2: 10 };

type Picture = (x: number, y: number) => number;

/** Two pictures filtered at once. */
function filtered(
  first: Picture,
  second: Picture,
  { sidePx = side, seen = viewing, memory = simdMemory } = {},
): { first: Float32Array; second: Float32Array } {
  const release = memory.mark();
  const eye = new EyeFilter({ memory, pitch, viewing: seen }, sidePx);
  for (let y = 0; y < sidePx; y += BAND_ROWS) {
    for (let i = 0; i < eye.first.length; i++) {
      eye.first[i] = first(i % sidePx, y + Math.floor(i / sidePx));
      eye.second[i] = second(i % sidePx, y + Math.floor(i / sidePx));
    }
    eye.enter(y);
  }
  eye.filter();
  const out = { first: new Float32Array(sidePx * sidePx), second: new Float32Array(sidePx * sidePx) };
  for (let y = 0; y < sidePx; y += BAND_ROWS) {
    eye.leave(y);
    out.first.set(eye.first, y * sidePx);
    out.second.set(eye.second, y * sidePx);
  }
  release();
  return out;
}

/** The same in double precision by fft.js, row by row and column by column. */
function filteredByLibrary(picture: Picture, sidePx: number): Float64Array {
  const fft = new FFT(sidePx);
  let plane: number[] = [];
  for (let y = 0; y < sidePx; y++) {
    for (let x = 0; x < sidePx; x++) plane.push(picture(x, y), 0);
  }
  const transformed = (how: "transform" | "inverseTransform"): void => {
    for (let pass = 0; pass < 2; pass++) {
      const turned = new Array<number>(plane.length);
      for (let y = 0; y < sidePx; y++) {
        const line = fft.createComplexArray();
        fft[how](line, plane.slice(2 * y * sidePx, 2 * (y + 1) * sidePx));
        for (let x = 0; x < sidePx; x++) {
          turned[2 * (x * sidePx + y)] = line[2 * x];
          turned[2 * (x * sidePx + y) + 1] = line[2 * x + 1];
        }
      }
      plane = turned;
    }
  };
  transformed("transform");
  for (let y = 0; y < sidePx; y++) {
    for (let x = 0; x < sidePx; x++) {
      const along = Math.min(x, sidePx - x) / (sidePx * pitch.alongMm);
      const across = Math.min(y, sidePx - y) / (sidePx * pitch.acrossMm);
      const left = Math.exp((-Math.hypot(along, across) * 5.236121) / 5.118857);
      plane[2 * (y * sidePx + x)] *= left;
      plane[2 * (y * sidePx + x) + 1] *= left;
    }
  }
  transformed("inverseTransform");
  return Float64Array.from({ length: sidePx * sidePx }, (_, i) => plane[2 * i]);
}

/** Different noise on every call with another seed. */
function noise(seed: number, sidePx = side): Picture {
  const random = seededRandom(seed);
  const values = Float32Array.from({ length: sidePx * sidePx }, () => random());
  return (x, y) => values[y * sidePx + x];
}

const nothing = () => 0;

describe("the eye's filter", () => {
  it("leaves a constant as it is", () => {
    const seen = filtered(
      () => 0.37,
      () => 0.62,
    );
    for (const value of seen.first) expect(Math.abs(value - 0.37)).toBeLessThan(1e-6);
    for (const value of seen.second) expect(Math.abs(value - 0.62)).toBeLessThan(1e-6);
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
    expect(worstDifference(seen, expected)).toBeLessThan(1e-6 * left + 3e-7);
  });

  it("filters each of two pictures as if it were alone", () => {
    const together = filtered(noise(1), noise(2));
    expect(worstDifference(together.first, filtered(noise(1), nothing).first)).toBeLessThan(1e-6);
    expect(worstDifference(together.second, filtered(noise(2), nothing).first)).toBeLessThan(1e-6);
  });

  it.each([128, 256])("does what fft.js does in double precision, within 1e-6, side %d", (sidePx) => {
    const picture = noise(5, sidePx);
    const { first } = filtered(picture, noise(6, sidePx), { sidePx });
    expect(worstDifference(first, filteredByLibrary(picture, sidePx))).toBeLessThan(1e-6);
  });

  it.each([4, 8, 32, 128, 512])("gives the same bits in both forms, side %d", (sidePx) => {
    const pictures = [noise(7, sidePx), (x: number, y: number) => (x > y ? 0.4 : 0)] as const;
    const simd = filtered(...pictures, { sidePx });
    const plain = filtered(...pictures, { sidePx, memory: plainMemory });
    expect(Buffer.from(simd.first.buffer).equals(Buffer.from(plain.first.buffer))).toBe(true);
    expect(Buffer.from(simd.second.buffer).equals(Buffer.from(plain.second.buffer))).toBe(true);
  });

  it("is linear", () => {
    const [a, b] = [noise(3), noise(4)];
    const sum = filtered((x, y) => 2 * a(x, y) - 3 * b(x, y), nothing).first;
    const parts = filtered(a, b);
    const expected = parts.first.map((value, i) => 2 * value - 3 * parts.second[i]);
    expect(worstDifference(sum, expected)).toBeLessThan(5e-6);
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
      expect(at(20 + dx, 30 + dy)).toBeCloseTo(at(20 - dx, 30 - dy), 7);
      expect(at(20 + dx, 30 + dy)).toBeLessThan(at(20, 30));
    }
  });

  it("sees more detail from nearer and in better light", () => {
    const fine = (x: number) => Math.cos((2 * Math.PI * 16 * x) / side);
    const contrast = (distanceMm: number, luminanceCdPerM2: number): number =>
      filtered(fine, nothing, { seen: { distanceMm, luminanceCdPerM2 } }).first[0];
    expect(contrast(150, 10)).toBeGreaterThan(contrast(300, 10));
    expect(contrast(300, 100)).toBeGreaterThan(contrast(300, 10));
  });
});
