import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";

/*
 * Fourier transforms in single precision, four sequences at a time.
 *
 * A line holds `length` complex values of each of the four: value i at 8 · i, four real parts and then four imaginary
 * parts. The forward transform halves its input by frequency and the inverse by time (radix 4; W. M. Gentleman and G. Sande,
 * Fast Fourier transforms for fun and profit, AFIPS 29, 563 (1966)), so that the spectrum stands in reversed order and
 * nothing is ever put in order: a filter puts its factors in that order once.
 */

/** Sequences of a line. */
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

/** Frequency 0..length−1 that stands at each place of a spectrum in reversed order. */
export function reversedOrder(length: number): Int32Array {
  if (length === 1) return Int32Array.of(0);
  const radix = length === 2 ? 2 : 4;
  const part = reversedOrder(length / radix);
  return Int32Array.from({ length }, (_, place) => {
    const quarter = Math.floor(place / part.length);
    return radix * part[place % part.length] + quarter;
  });
}

/** Values in order to their spectrum in reversed order, in place. */
export function forwardLine({ simd, length, twiddles }: FourierPlan, line: Float32Array): void {
  if (simd) {
    simd.forwardLine(line.byteOffset, length, twiddles.byteOffset);
    return;
  }
  let first = 0;
  let span = length;
  for (; span > 4; span /= 4) {
    for (let block = 0; block < length; block += span) {
      for (let j = 0; j < span / 4; j++) forwardFour(line, block + j, span / 4, twiddles, first + 6 * j);
    }
    first += 6 * (span / 4);
  }
  if (span === 4) {
    for (let block = 0; block < length; block += 4) forwardUnturned(line, block);
  } else addAndSubtractPairs(line, length);
}

/** A spectrum in reversed order to `length` times its values in order, in place. */
export function inverseLine({ simd, length, twiddles }: FourierPlan, line: Float32Array): void {
  if (simd) {
    simd.inverseLine(line.byteOffset, length, twiddles.byteOffset);
    return;
  }
  let span = Math.log2(length) % 2 === 0 ? 4 : 2;
  if (span === 4) {
    for (let block = 0; block < length; block += 4) inverseUnturned(line, block);
  } else addAndSubtractPairs(line, length);
  let past = twiddles.length;
  for (span *= 4; span <= length; span *= 4) {
    past -= 6 * (span / 4);
    for (let block = 0; block < length; block += span) {
      for (let j = 0; j < span / 4; j++) inverseFour(line, block + j, span / 4, twiddles, past + 6 * j);
    }
  }
}

const { fround } = Math;

/** One butterfly of the forward transform, on the values at index, index + quarter, + 2 · quarter, + 3 · quarter. */
function forwardFour(line: Float32Array, index: number, quarter: number, w: Float32Array, t: number): void {
  const step = VALUE_FLOATS * quarter;
  for (let p0 = VALUE_FLOATS * index, lane = 0; lane < 4; p0++, lane++) {
    const p1 = p0 + step;
    const p2 = p1 + step;
    const p3 = p2 + step;
    const b0r = fround(line[p0] + line[p2]);
    const b0i = fround(line[p0 + 4] + line[p2 + 4]);
    const b1r = fround(line[p0] - line[p2]);
    const b1i = fround(line[p0 + 4] - line[p2 + 4]);
    const b2r = fround(line[p1] + line[p3]);
    const b2i = fround(line[p1 + 4] + line[p3 + 4]);
    const b3r = fround(line[p1] - line[p3]);
    const b3i = fround(line[p1 + 4] - line[p3 + 4]);
    line[p0] = b0r + b2r;
    line[p0 + 4] = b0i + b2i;
    line[p1] = b1r + b3i;
    line[p1 + 4] = b1i - b3r;
    line[p2] = b0r - b2r;
    line[p2 + 4] = b0i - b2i;
    line[p3] = b1r - b3i;
    line[p3 + 4] = b1i + b3r;
    turnBack(line, p1, w, t);
    turnBack(line, p2, w, t + 2);
    turnBack(line, p3, w, t + 4);
  }
}

/** The same on four neighbours, whose twiddles are 1. */
function forwardUnturned(line: Float32Array, index: number): void {
  for (let p0 = VALUE_FLOATS * index, lane = 0; lane < 4; p0++, lane++) {
    const p1 = p0 + VALUE_FLOATS;
    const p2 = p1 + VALUE_FLOATS;
    const p3 = p2 + VALUE_FLOATS;
    const b0r = fround(line[p0] + line[p2]);
    const b0i = fround(line[p0 + 4] + line[p2 + 4]);
    const b1r = fround(line[p0] - line[p2]);
    const b1i = fround(line[p0 + 4] - line[p2 + 4]);
    const b2r = fround(line[p1] + line[p3]);
    const b2i = fround(line[p1 + 4] + line[p3 + 4]);
    const b3r = fround(line[p1] - line[p3]);
    const b3i = fround(line[p1 + 4] - line[p3 + 4]);
    line[p0] = b0r + b2r;
    line[p0 + 4] = b0i + b2i;
    line[p1] = b1r + b3i;
    line[p1 + 4] = b1i - b3r;
    line[p2] = b0r - b2r;
    line[p2 + 4] = b0i - b2i;
    line[p3] = b1r - b3i;
    line[p3 + 4] = b1i + b3r;
  }
}

/** Multiplies a value by c − i·s, the two at w[t]. */
function turnBack(line: Float32Array, at: number, w: Float32Array, t: number): void {
  const real = line[at];
  const imaginary = line[at + 4];
  line[at] = fround(real * w[t]) + fround(imaginary * w[t + 1]);
  line[at + 4] = fround(imaginary * w[t]) - fround(real * w[t + 1]);
}

/** One butterfly of the inverse transform. */
function inverseFour(line: Float32Array, index: number, quarter: number, w: Float32Array, t: number): void {
  const step = VALUE_FLOATS * quarter;
  for (let p0 = VALUE_FLOATS * index, lane = 0; lane < 4; p0++, lane++) {
    const p1 = p0 + step;
    const p2 = p1 + step;
    const p3 = p2 + step;
    const c1r = fround(fround(line[p1] * w[t]) - fround(line[p1 + 4] * w[t + 1]));
    const c1i = fround(fround(line[p1 + 4] * w[t]) + fround(line[p1] * w[t + 1]));
    const c2r = fround(fround(line[p2] * w[t + 2]) - fround(line[p2 + 4] * w[t + 3]));
    const c2i = fround(fround(line[p2 + 4] * w[t + 2]) + fround(line[p2] * w[t + 3]));
    const c3r = fround(fround(line[p3] * w[t + 4]) - fround(line[p3 + 4] * w[t + 5]));
    const c3i = fround(fround(line[p3 + 4] * w[t + 4]) + fround(line[p3] * w[t + 5]));
    const d0r = fround(line[p0] + c2r);
    const d0i = fround(line[p0 + 4] + c2i);
    const d1r = fround(line[p0] - c2r);
    const d1i = fround(line[p0 + 4] - c2i);
    const d2r = fround(c1r + c3r);
    const d2i = fround(c1i + c3i);
    const d3r = fround(c1r - c3r);
    const d3i = fround(c1i - c3i);
    line[p0] = d0r + d2r;
    line[p0 + 4] = d0i + d2i;
    line[p1] = d1r - d3i;
    line[p1 + 4] = d1i + d3r;
    line[p2] = d0r - d2r;
    line[p2 + 4] = d0i - d2i;
    line[p3] = d1r + d3i;
    line[p3 + 4] = d1i - d3r;
  }
}

function inverseUnturned(line: Float32Array, index: number): void {
  for (let p0 = VALUE_FLOATS * index, lane = 0; lane < 4; p0++, lane++) {
    const p1 = p0 + VALUE_FLOATS;
    const p2 = p1 + VALUE_FLOATS;
    const p3 = p2 + VALUE_FLOATS;
    const d0r = fround(line[p0] + line[p2]);
    const d0i = fround(line[p0 + 4] + line[p2 + 4]);
    const d1r = fround(line[p0] - line[p2]);
    const d1i = fround(line[p0 + 4] - line[p2 + 4]);
    const d2r = fround(line[p1] + line[p3]);
    const d2i = fround(line[p1 + 4] + line[p3 + 4]);
    const d3r = fround(line[p1] - line[p3]);
    const d3i = fround(line[p1 + 4] - line[p3 + 4]);
    line[p0] = d0r + d2r;
    line[p0 + 4] = d0i + d2i;
    line[p1] = d1r - d3i;
    line[p1 + 4] = d1i + d3r;
    line[p2] = d0r - d2r;
    line[p2 + 4] = d0i - d2i;
    line[p3] = d1r + d3i;
    line[p3 + 4] = d1i - d3r;
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

/** Four rows of each of two pictures [4 × length] to a line, the second picture in the imaginary parts. */
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

/** The way back. */
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

/** Four rows y.. of a square, as a line holds them, to its columns. */
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

/** The way back. */
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
