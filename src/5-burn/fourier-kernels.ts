import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";

/*
 * Fourier transforms in single precision, four sequences at a time.
 *
 * A line holds `length` complex values of each of the four: value i at 8 · i, four real parts and then four imaginary
 * parts. The forward transform decimates in frequency and the inverse in time (radix 4; W. M. Gentleman and G. Sande,
 * Fast Fourier transforms for fun and profit, AFIPS 29, 563 (1966)). So the spectrum is in digit-reversed order, and nothing is
 * reordered: a filter puts its factors in that order once.
 */

/** Sequences in a line. */
export const FOUR = 4;

/** Floats of one complex value of each of four sequences. */
export const VALUE_FLOATS = 2 * FOUR;

/** Transforms of one length. */
export interface FourierPlan {
  readonly simd: SimdKernels | undefined;
  /** A power of two from 4. */
  readonly length: number;
  readonly twiddles: Float32Array;
}

export function fourierPlan(memory: KernelMemory, length: number): FourierPlan {
  const list = fourierTwiddles(length);
  const twiddles = memory.float32(list.length);
  twiddles.set(list);
  return { simd: memory.simd, length, twiddles };
}

/**
 * Twiddles of all passes, from the longest span: for each j < span/4 the cosines and sines of j, 2j and 3j · 2π/span.
 *
 * @param length a power of two
 */
function fourierTwiddles(length: number): number[] {
  const twiddles: number[] = [];
  for (let span = length; span > 4; span /= 4) {
    for (let j = 0; j < span / 4; j++) {
      for (let times = 1; times <= 3; times++) {
        const angle = (2 * Math.PI * times * j) / span;
        twiddles.push(Math.cos(angle), Math.sin(angle));
      }
    }
  }
  return twiddles;
}

/** Frequency 0..length−1 at each place of a spectrum in digit-reversed order. */
export function reversedOrder(length: number): Int32Array {
  if (length === 1) return Int32Array.of(0);
  const radix = length === 2 ? 2 : 4;
  const part = reversedOrder(length / radix);
  return Int32Array.from({ length }, (_, place) => {
    const quarter = Math.floor(place / part.length);
    return radix * part[place % part.length] + quarter;
  });
}

/** Transforms values to their spectrum in digit-reversed order, in place. */
export function forwardLine({ simd, length, twiddles }: FourierPlan, line: Float32Array): void {
  if (simd) {
    simd.forwardLine(line.byteOffset, length, twiddles.byteOffset);
    return;
  }
  let first = 0;
  let span = length;
  for (; span > 4; span /= 4) {
    const quarter = span / 4;
    for (let block = 0; block < length; block += span) {
      for (let j = 0; j < quarter; j++) {
        butterfly(line, block + j, quarter, -1);
        for (let n = 0; n < 3; n++)
          turn(line, block + j + (n + 1) * quarter, twiddles, first + 6 * j + 2 * n, -1);
      }
    }
    first += 6 * quarter;
  }
  if (span === 4) {
    for (let block = 0; block < length; block += 4) butterfly(line, block, 1, -1);
  } else addAndSubtractPairs(line, length);
}

/** Transforms a spectrum in digit-reversed order to `length` times its values, in place. */
export function inverseLine({ simd, length, twiddles }: FourierPlan, line: Float32Array): void {
  if (simd) {
    simd.inverseLine(line.byteOffset, length, twiddles.byteOffset);
    return;
  }
  let span = Math.log2(length) % 2 === 0 ? 4 : 2;
  if (span === 4) {
    for (let block = 0; block < length; block += 4) butterfly(line, block, 1, 1);
  } else addAndSubtractPairs(line, length);
  let first = twiddles.length;
  for (span *= 4; span <= length; span *= 4) {
    const quarter = span / 4;
    first -= 6 * quarter;
    for (let block = 0; block < length; block += span) {
      for (let j = 0; j < quarter; j++) {
        for (let n = 0; n < 3; n++)
          turn(line, block + j + (n + 1) * quarter, twiddles, first + 6 * j + 2 * n, 1);
        butterfly(line, block + j, quarter, 1);
      }
    }
  }
}

const { fround } = Math;

/**
 * One butterfly without twiddles, on the values at index, index + quarter, + 2 · quarter, + 3 · quarter.
 *
 * @param sign −1 in the forward transform, 1 in the inverse
 */
function butterfly(line: Float32Array, index: number, quarter: number, sign: 1 | -1): void {
  const step = VALUE_FLOATS * quarter;
  for (let p0 = VALUE_FLOATS * index, lane = 0; lane < FOUR; p0++, lane++) {
    const p1 = p0 + step;
    const p2 = p1 + step;
    const p3 = p2 + step;
    const b0r = fround(line[p0] + line[p2]);
    const b0i = fround(line[p0 + 4] + line[p2 + 4]);
    const b1r = fround(line[p0] - line[p2]);
    const b1i = fround(line[p0 + 4] - line[p2 + 4]);
    const b2r = fround(line[p1] + line[p3]);
    const b2i = fround(line[p1 + 4] + line[p3 + 4]);
    const b3r = sign * fround(line[p1] - line[p3]);
    const b3i = sign * fround(line[p1 + 4] - line[p3 + 4]);
    line[p0] = b0r + b2r;
    line[p0 + 4] = b0i + b2i;
    line[p1] = b1r - b3i;
    line[p1 + 4] = b1i + b3r;
    line[p2] = b0r - b2r;
    line[p2 + 4] = b0i - b2i;
    line[p3] = b1r + b3i;
    line[p3 + 4] = b1i - b3r;
  }
}

/** Multiplies the value at `index` by its twiddle c + sign · i·s, c and s from w[t] on. */
function turn(line: Float32Array, index: number, w: Float32Array, t: number, sign: 1 | -1): void {
  const sine = sign * w[t + 1];
  for (let p = VALUE_FLOATS * index, lane = 0; lane < FOUR; p++, lane++) {
    const real = line[p];
    const imaginary = line[p + 4];
    line[p] = fround(real * w[t]) - fround(imaginary * sine);
    line[p + 4] = fround(imaginary * w[t]) + fround(real * sine);
  }
}

function addAndSubtractPairs(line: Float32Array, length: number): void {
  for (let p = 0; p < VALUE_FLOATS * length; p += 2 * VALUE_FLOATS) {
    for (let i = p; i < p + VALUE_FLOATS; i++) {
      const a = line[i];
      const b = line[i + VALUE_FLOATS];
      line[i] = a + b;
      line[i + VALUE_FLOATS] = a - b;
    }
  }
}

/** Packs four rows of two pictures [4 × length] into a line, the second picture in the imaginary parts. */
export function lineFromRows(
  { simd, length }: FourierPlan,
  first: Float32Array,
  second: Float32Array,
  line: Float32Array,
): void {
  if (simd) {
    simd.lineFromRows(first.byteOffset, second.byteOffset, length, line.byteOffset);
    return;
  }
  for (let x = 0; x < length; x++) {
    for (let row = 0; row < FOUR; row++) {
      line[VALUE_FLOATS * x + row] = first[row * length + x];
      line[VALUE_FLOATS * x + FOUR + row] = second[row * length + x];
    }
  }
}

/** The reverse of `lineFromRows`. */
export function rowsFromLine(
  { simd, length }: FourierPlan,
  line: Float32Array,
  first: Float32Array,
  second: Float32Array,
): void {
  if (simd) {
    simd.rowsFromLine(line.byteOffset, length, first.byteOffset, second.byteOffset);
    return;
  }
  for (let x = 0; x < length; x++) {
    for (let row = 0; row < FOUR; row++) {
      first[row * length + x] = line[VALUE_FLOATS * x + row];
      second[row * length + x] = line[VALUE_FLOATS * x + FOUR + row];
    }
  }
}

/** The columns of a square, four to a line. */
export interface ColumnLines {
  readonly values: Float32Array;
  /** Floats from one line of columns to the next. */
  readonly lineFloats: number;
}

/** Copies rows y..y+3 of a square, in a line, to its columns. */
export function spreadLine(
  { simd, length }: FourierPlan,
  line: Float32Array,
  { values, lineFloats }: ColumnLines,
  y: number,
): void {
  if (simd) {
    const to = values.byteOffset + 4 * VALUE_FLOATS * y;
    simd.spreadLine(line.byteOffset, length, to, 4 * lineFloats);
    return;
  }
  for (let x = 0; x < length; x++) {
    for (let row = 0; row < FOUR; row++) {
      const at = (x >> 2) * lineFloats + VALUE_FLOATS * (y + row) + (x & 3);
      values[at] = line[VALUE_FLOATS * x + row];
      values[at + FOUR] = line[VALUE_FLOATS * x + FOUR + row];
    }
  }
}

/** The reverse of `spreadLine`. */
export function collectLine(
  { simd, length }: FourierPlan,
  { values, lineFloats }: ColumnLines,
  y: number,
  line: Float32Array,
): void {
  if (simd) {
    const from = values.byteOffset + 4 * VALUE_FLOATS * y;
    simd.collectLine(from, 4 * lineFloats, length, line.byteOffset);
    return;
  }
  for (let x = 0; x < length; x++) {
    for (let row = 0; row < FOUR; row++) {
      const at = (x >> 2) * lineFloats + VALUE_FLOATS * (y + row) + (x & 3);
      line[VALUE_FLOATS * x + row] = values[at];
      line[VALUE_FLOATS * x + FOUR + row] = values[at + FOUR];
    }
  }
}

/** Multiplies each value of a line by a real factor [length × 4]. */
export function multiplyLine({ simd, length }: FourierPlan, line: Float32Array, factors: Float32Array): void {
  if (simd) {
    simd.multiplyLine(line.byteOffset, factors.byteOffset, length);
    return;
  }
  for (let i = 0; i < line.length; i++) line[i] *= factors[(i >> 3) * FOUR + (i & 3)];
}
