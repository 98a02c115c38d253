import type { KernelMemory } from "../core/kernel-memory.js";

const KNEE = Math.fround(216 / 24389);
const SLOPE = Math.fround(24389 / 27);

/** A third in sixteen bits, and the correction of the exponent of a float32 after a division by three. */
const THIRD = 21845;
const CUBE_ROOT_OFFSET = 0x2a5119f5;

const { fround } = Math;

/**
 * L* of luminance factors in single precision: L* + 16 within 1e-6 of core/physics/lightness. Negative factors count as 0.
 *
 * The cube root starts from the exponent divided by 3 and takes two steps of Halley's iteration. Each step cubes the
 * error: 3 % at the start, single precision at the end.
 *
 * @param luminance at least `count` values, below 4
 * @param out the vector form writes up to a whole multiple of 4
 */
export function lightnessRow(
  { simd }: KernelMemory,
  luminance: Float32Array,
  out: Float32Array,
  count: number,
): void {
  if (simd) {
    simd.lightnessRow(luminance.byteOffset, out.byteOffset, count);
    return;
  }
  const bits = new Int32Array(luminance.buffer, luminance.byteOffset, count);
  for (let i = 0; i < count; i++) {
    const y = Math.max(0, luminance[i]);
    if (y <= KNEE) {
      out[i] = SLOPE * y;
      continue;
    }
    guessBits[0] = (Math.imul(bits[i] >> 14, THIRD) >> 2) + CUBE_ROOT_OFFSET;
    const root = halley(halley(guess[0], y), y);
    out[i] = fround(116 * root) - 16;
  }
}

/** One float32, and its bits. */
const guess = new Float32Array(1);
const guessBits = new Int32Array(guess.buffer);

/** Halley's step towards the cube root of y: r·(r³ + 2y)/(2r³ + y). */
function halley(root: number, y: number): number {
  const cube = fround(fround(root * root) * root);
  const above = fround(cube + 2 * y);
  const below = fround(2 * cube + y);
  return fround(root * fround(above / below));
}

/** Running sums of differences and of their squares. Each has four parts, one for every fourth value. */
export const differenceSums = (memory: KernelMemory): Float64Array => memory.float64(8);

/** Adds a − b and (a − b)² of the first `count` values. */
export function addDifferences(
  { simd }: KernelMemory,
  a: Float32Array,
  b: Float32Array,
  count: number,
  sums: Float64Array,
): void {
  if (simd) {
    simd.addDifferences(a.byteOffset, b.byteOffset, count, sums.byteOffset);
    return;
  }
  for (let i = 0; i < count; i++) {
    const difference = fround(a[i] - b[i]);
    sums[i & 3] += difference;
    sums[4 + (i & 3)] += difference * difference;
  }
}

/** The two sums, their parts added. */
export function totalsOf(sums: Float64Array): { differences: number; squares: number } {
  const total = (at: number): number => sums[at] + sums[at + 1] + (sums[at + 2] + sums[at + 3]);
  return { differences: total(0), squares: total(4) };
}
