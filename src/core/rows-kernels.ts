import type { KernelMemory, SimdKernels } from "./kernel-memory.js";

/** Weighted sum of `count` rows. The next call reuses the result array. */
export type RowSummer = (
  count: number,
  rowAt: (k: number) => Float32Array,
  weightAt: (k: number) => number,
) => Float32Array;

/** Size of the rows to sum, and limits of the sums. */
export interface SummedRows {
  readonly maxRows: number;
  /** Values of a row. */
  readonly values: number;
  /** Limits of the sums. Default: none. */
  readonly low?: number;
  readonly high?: number;
}

/** Practically no limit in single precision. */
const LARGE = 3e38;

/** Sums rows in single precision, in order, and clamps the sums to the limits. */
export function rowSummer(
  memory: KernelMemory,
  { maxRows, values, low = -LARGE, high = LARGE }: SummedRows,
): RowSummer {
  const { simd } = memory;
  const addresses = memory.int32(maxRows);
  const weights = memory.float32(maxRows);
  const out = memory.float32(values);

  return (count, rowAt, weightAt) => {
    if (simd) {
      for (let k = 0; k < count; k++) {
        addresses[k] = rowAt(k).byteOffset;
        weights[k] = weightAt(k);
      }
      simd.sumRows(addresses.byteOffset, weights.byteOffset, count, values, low, high, out.byteOffset);
      return out;
    }
    out.fill(0);
    for (let k = 0; k < count; k++) {
      const row = rowAt(k);
      const weight = Math.fround(weightAt(k));
      for (let x = 0; x < values; x++) out[x] += Math.fround(weight * row[x]);
    }
    for (let x = 0; x < values; x++) out[x] = Math.min(high, Math.max(low, out[x]));
    return out;
  };
}

/** Each value of a row becomes a weighted sum of its neighbours. */
export interface AlongSum {
  readonly simd: SimdKernels | undefined;
  readonly weights: Float32Array;
  /** Values from one weighted neighbour to the next. */
  readonly step: number;
  /** Values of the result. */
  readonly values: number;
}

/** out[to + i] = Σ_k weights[k] · row[i + k · step], k rising, in single precision. */
export function sumAlong(
  { simd, weights, step, values }: AlongSum,
  row: Float32Array,
  out: Float32Array,
  to = 0,
): void {
  if (simd) {
    const [from, weightsAt] = [row.byteOffset, weights.byteOffset];
    simd.sumAlong(from, weightsAt, weights.length, step, values, out.byteOffset + 4 * to);
    return;
  }
  for (let i = 0; i < values; i++) {
    let sum = 0;
    for (let k = 0, at = i; k < weights.length; k++, at += step) {
      sum = Math.fround(sum + Math.fround(weights[k] * row[at]));
    }
    out[to + i] = sum;
  }
}
