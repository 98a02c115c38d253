import { describe, expect, it } from "vitest";
import {
  addProducts,
  lightnessRow,
  productSums,
  subtractRow,
  totalOf,
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

describe("sums of values and products", () => {
  it.each([1, 2, 3, 4, 7, 32, 101])(
    "of %d values are those of a plain loop, and the same in both forms",
    (count) => {
      const random = seededRandom(count);
      const a = Float32Array.from({ length: count }, () => 100 * random());
      const b = Float32Array.from({ length: count }, () => 100 * random());
      const [simd, plain] = [simdMemory, plainMemory].map((memory) => {
        // Longer than the count: values after it must have no effect.
        const [first, second, out] = [a, b, a].map((values) => {
          const row = memory.float32(count + 4).fill(7);
          row.set(values);
          return row;
        });
        second.fill(-1000, count);
        const sums = productSums(memory);
        addProducts(memory, first, second, count, sums);
        addProducts(memory, first, second, count, sums);
        subtractRow(memory, first, second, out, count);
        const difference = [...out.slice(0, count)];
        return { values: totalOf(sums.values), products: totalOf(sums.products), difference };
      });
      expect(simd).toEqual(plain);
      const sum = a.reduce((total, value) => total + 2 * value, 0);
      const products = a.reduce((total, value, i) => total + 2 * value * b[i], 0);
      expect(Math.abs(simd.values / sum - 1)).toBeLessThan(1e-6);
      expect(Math.abs(simd.products / products - 1)).toBeLessThan(1e-6);
      expect(simd.difference).toEqual(Array.from(a, (value, i) => Math.fround(value - b[i])));
    },
  );
});
