import type { KernelMemory } from "../core/kernel-memory.js";

/** Rows that one call may weigh out of the same source rows. */
export const MOST_ROWS_AT_ONCE = 3;

/**
 * Weighted sums of rows: out[t · apart + i] = Σ_k weights[k · sums + t] · rows[k][i], k rising, in single precision.
 *
 * @param rows source rows, of which `count` from `first` are weighed
 * @param addresses their byte offsets, for the vector form
 * @param weights [count × sums]
 * @param apart floats from one sum's row to the next
 * @param length floats of a row; the vector form writes up to a whole multiple of 16
 */
export function weighRows(
  { simd }: KernelMemory,
  rows: readonly Float32Array[],
  addresses: Int32Array,
  first: number,
  count: number,
  weights: Float32Array,
  firstWeight: number,
  sums: number,
  out: Float32Array,
  apart: number,
  length: number,
): void {
  if (simd) {
    const from = addresses.byteOffset + 4 * first;
    const weightsAt = weights.byteOffset + 4 * firstWeight;
    const to = out.byteOffset;
    if (sums === 1) simd.weighRows1(from, weightsAt, count, to, length);
    else if (sums === 2) simd.weighRows2(from, weightsAt, count, to, 4 * apart, length);
    else simd.weighRows3(from, weightsAt, count, to, 4 * apart, length);
    return;
  }
  for (let t = 0; t < sums; t++) {
    const sum = out.subarray(t * apart, t * apart + length);
    sum.fill(0);
    let k = first;
    let at = firstWeight + t;
    for (; k + 2 < first + count; k += 3, at += 3 * sums) {
      addThree(
        sum,
        rows[k],
        rows[k + 1],
        rows[k + 2],
        weights[at],
        weights[at + sums],
        weights[at + 2 * sums],
      );
    }
    for (; k < first + count; k++, at += sums) addScaled(sum, rows[k], weights[at]);
  }
}

/** Three rows at a time: the sum is read and written once for all of them. */
function addThree(
  sum: Float32Array,
  row0: Float32Array,
  row1: Float32Array,
  row2: Float32Array,
  weight0: number,
  weight1: number,
  weight2: number,
): void {
  for (let i = 0; i < sum.length; i++) {
    const one = Math.fround(sum[i] + Math.fround(weight0 * row0[i]));
    const two = Math.fround(one + Math.fround(weight1 * row1[i]));
    sum[i] = two + Math.fround(weight2 * row2[i]);
  }
}

function addScaled(sum: Float32Array, row: Float32Array, weight: number): void {
  for (let i = 0; i < sum.length; i++) sum[i] += Math.fround(weight * row[i]);
}
