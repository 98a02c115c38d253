import { TAPS_PER_BLOCK, type Taps } from "./taps.js";

/**
 * One row through the taps of its axis: `row` [taps.sourceLength] to `out` [taps.outputLength]. Sums are kept in
 * double precision and rounded once. Loops are written out for blocks of `TAPS_PER_BLOCK` = 3.
 */
export function convolveRow(row: Float32Array, taps: Taps, out: Float32Array): void {
  const { first, counts, weights, stride, inner, outputLength } = taps;
  let k = 0;
  for (let i = 0; i < inner; i++) {
    const end = k + stride;
    let j = first[i];
    let sum = 0;
    for (; k < end; k += 3, j += 3) {
      sum += weights[k] * row[j] + weights[k + 1] * row[j + 1] + weights[k + 2] * row[j + 2];
    }
    out[i] = sum;
  }
  for (let i = inner; i < outputLength; i++) {
    const j = first[i] - i * stride;
    const end = i * stride + counts[i];
    let sum = 0;
    for (k = i * stride; k < end; k++) sum += weights[k] * row[j + k];
    out[i] = sum;
  }
}

/**
 * Output row `y` of the other axis, before rounding: the weighted sum of whole rows into `sum` [columns]. Source row j
 * is expected at `ring[j % ring.length]`.
 */
export function convolveRows(ring: readonly Float32Array[], taps: Taps, y: number, sum: Float64Array): void {
  const { weights, stride } = taps;
  const first = taps.first[y];
  const last = first + taps.counts[y] - 1;
  let k = y * stride;
  sum.fill(0);
  for (let j = first; j <= last; j += TAPS_PER_BLOCK, k += TAPS_PER_BLOCK) {
    // Past the last row the weights are 0, and any row that is there will do.
    const a = ring[j % ring.length];
    const b = ring[Math.min(j + 1, last) % ring.length];
    const c = ring[Math.min(j + 2, last) % ring.length];
    addRows(a, b, c, weights[k], weights[k + 1], weights[k + 2], sum);
  }
}

function addRows(
  a: Float32Array,
  b: Float32Array,
  c: Float32Array,
  weightA: number,
  weightB: number,
  weightC: number,
  sum: Float64Array,
): void {
  for (let x = 0; x < sum.length; x++) sum[x] += weightA * a[x] + weightB * b[x] + weightC * c[x];
}

/** Round sums to `out` of the same length, held within 0..1. */
export function clampRow(sum: Float64Array, out: Float32Array): void {
  for (let x = 0; x < sum.length; x++) out[x] = Math.min(1, Math.max(0, sum[x]));
}
