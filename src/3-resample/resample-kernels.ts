import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";
import type { Taps } from "./taps.js";

/** Source rows that are filtered together: a vector holds one sample of each. */
export const ROWS_TOGETHER = 4;

/** Taps for the kernels: single precision, in the kernels' memory, padded to a multiple of four outputs. */
export interface RowTaps {
  readonly simd: SimdKernels | undefined;
  /** [outputLength, padded] */
  readonly first: Int32Array;
  /** [outputLength × stride, padded] */
  readonly weights: Float32Array;
  readonly stride: number;
  /** outputLength, padded. */
  readonly outputs: number;
}

export function layOutTaps(memory: KernelMemory, { first, weights, stride, outputLength }: Taps): RowTaps {
  const outputs = Math.ceil(outputLength / 4) * 4;
  const laidOut = {
    simd: memory.simd,
    first: memory.int32(outputs),
    weights: memory.float32(outputs * stride),
    stride,
    outputs,
  };
  laidOut.first.set(first);
  laidOut.weights.set(weights);
  return laidOut;
}

/**
 * Filter four source rows.
 *
 * @param rows four rows interleaved pixel by pixel, [(samples + stride) × 4], 0 after the last sample
 * @param out four rows, one after the other, `outStride` values apart
 * @param at index where the first row starts
 */
export function convolveFour(
  taps: RowTaps,
  rows: Float32Array,
  out: Float32Array,
  at: number,
  outStride: number,
): void {
  const { simd, first, weights, stride, outputs } = taps;
  if (simd) {
    simd.convolveFour(
      rows.byteOffset,
      first.byteOffset,
      weights.byteOffset,
      stride,
      outputs,
      out.byteOffset + 4 * at,
      4 * outStride,
    );
    return;
  }
  const { fround } = Math;
  for (let i = 0; i < outputs; i++) {
    for (let r = 0; r < ROWS_TOGETHER; r++) {
      let sum = 0;
      for (let k = 0, from = first[i] * ROWS_TOGETHER + r; k < stride; k++, from += ROWS_TOGETHER) {
        sum = fround(sum + fround(weights[i * stride + k] * rows[from]));
      }
      out[at + r * outStride + i] = sum;
    }
  }
}
