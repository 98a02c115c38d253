/**
 * Fourier transforms in single precision, four sequences at a time; the plain forms of `src/simd/fourier.ts`, to the bit.
 *
 * A line holds `length` complex values of each of the four: value i at 8 · i, four real parts and then four imaginary
 * parts. The forward transform halves its input by frequency and the inverse by time (radix 4; W. M. Gentleman and G. Sande,
 * Fast Fourier transforms for fun and profit, AFIPS 29, 563 (1966)), so that the spectrum stands in reversed order and
 * nothing is ever put in order: a filter puts its factors in that order once.
 */

/** Floats of one complex value of each of four sequences. */
export const VALUE_FLOATS = 8;

/**
 * Twiddles of all passes, from the longest span: for each j < span/4 the cosines and sines of j, 2j and 3j · 2π/span.
 *
 * @param length a power of two
 */
export function fourierTwiddles(length: number): number[] {
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
export function forwardLine(line: Float32Array, length: number, twiddles: Float32Array): void {
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
export function inverseLine(line: Float32Array, length: number, twiddles: Float32Array): void {
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
    storeTurnedBack(line, p1, fround(b1r + b3i), fround(b1i - b3r), w[t], w[t + 1]);
    storeTurnedBack(line, p2, fround(b0r - b2r), fround(b0i - b2i), w[t + 2], w[t + 3]);
    storeTurnedBack(line, p3, fround(b1r - b3i), fround(b1i + b3r), w[t + 4], w[t + 5]);
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

/** Multiplies by c − i·s, and stores. */
function storeTurnedBack(
  line: Float32Array,
  at: number,
  real: number,
  imaginary: number,
  c: number,
  s: number,
): void {
  line[at] = fround(real * c) + fround(imaginary * s);
  line[at + 4] = fround(imaginary * c) - fround(real * s);
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
