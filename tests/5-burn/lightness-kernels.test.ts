import { describe, expect, it } from "vitest";
import {
  addDifferences,
  differenceSums,
  lightnessRow,
  totalsOf,
} from "../../src/5-burn/lightness-kernels.js";
import type { KernelMemory } from "../../src/core/kernel-memory.js";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import { seededRandom } from "../../src/core/random.js";
import { plainMemory, simdMemory } from "./burning.js";

function lightnessOf(memory: KernelMemory, luminance: readonly number[]): Float32Array {
  const input = memory.float32(luminance.length);
  input.set(luminance);
  const out = memory.float32(luminance.length);
  lightnessRow(memory, input, out, luminance.length);
  return out.slice();
}

/** From black to beyond white, and across the knee at 216/24389. */
const factors = [
  ...Array.from({ length: 4001 }, (_, i) => i / 3200),
  ...Array.from({ length: 400 }, (_, i) => (216 / 24389) * (1 + (i - 200) * 1e-6)),
  -0.001,
  -1e-9,
];

describe("lightness of a row", () => {
  it("is that of CIE 1976 within a millionth of it, and of negative light 0", () => {
    const got = lightnessOf(simdMemory, factors);
    factors.forEach((factor, i) => {
      const expected = lightnessFromLuminance(Math.max(0, Math.fround(factor)));
      expect(Math.abs(got[i] - expected)).toBeLessThanOrEqual(1e-6 * (expected + 16));
    });
  });

  it("is the same to the bit in both forms", () => {
    const simd = lightnessOf(simdMemory, factors);
    expect(Buffer.from(simd.buffer).equals(Buffer.from(lightnessOf(plainMemory, factors).buffer))).toBe(true);
  });
});

describe("sums of differences", () => {
  it.each([1, 2, 3, 4, 7, 32, 101])(
    "of %d values are those of a plain loop, and the same in both forms",
    (count) => {
      const random = seededRandom(count);
      const a = Float32Array.from({ length: count }, () => 100 * random());
      const b = Float32Array.from({ length: count }, () => 100 * random());
      const [simd, plain] = [simdMemory, plainMemory].map((memory) => {
        // Longer than the count: values after it must have no effect.
        const [first, second] = [a, b].map((values) => {
          const row = memory.float32(count + 4).fill(7);
          row.set(values);
          return row;
        });
        second.fill(-1000, count);
        const sums = differenceSums(memory);
        addDifferences(memory, first, second, count, sums);
        addDifferences(memory, first, second, count, sums);
        return totalsOf(sums);
      });
      expect(simd).toEqual(plain);
      const differences = Array.from(a, (value, i) => value - b[i]);
      const sum = differences.reduce((total, difference) => total + 2 * difference, 0);
      const squares = differences.reduce((total, difference) => total + 2 * difference ** 2, 0);
      expect(Math.abs(simd.differences - sum)).toBeLessThan(1e-3);
      expect(Math.abs(simd.squares / squares - 1)).toBeLessThan(1e-6);
    },
  );
});
