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

/** Running sums of values and of products, each in four parts, one for every fourth value. */
export interface ProductSums {
  readonly values: Float64Array;
  readonly products: Float64Array;
}

export const productSums = (memory: KernelMemory): ProductSums => ({
  values: memory.float64(4),
  products: memory.float64(4),
});

/** out[i] = a[i] − b[i] in single precision. @param out the vector form writes up to a whole multiple of 4 */
export function subtractRow(
  { simd }: KernelMemory,
  a: Float32Array,
  b: Float32Array,
  out: Float32Array,
  count: number,
): void {
  if (simd) {
    simd.subtractRow(a.byteOffset, b.byteOffset, out.byteOffset, count);
    return;
  }
  for (let i = 0; i < count; i++) out[i] = a[i] - b[i];
}

/** Adds the first `count` values of a, and their products with those of b. */
export function addProducts(
  { simd }: KernelMemory,
  a: Float32Array,
  b: Float32Array,
  count: number,
  { values, products }: ProductSums,
): void {
  if (simd) {
    simd.addProducts(a.byteOffset, b.byteOffset, count, values.byteOffset, products.byteOffset);
    return;
  }
  for (let i = 0; i < count; i++) {
    values[i & 3] += a[i];
    products[i & 3] += a[i] * b[i];
  }
}

/** A sum from its four parts. */
export const totalOf = (parts: Float64Array): number => parts[0] + parts[1] + (parts[2] + parts[3]);
