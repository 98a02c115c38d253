import type { KernelMemory } from "../core/kernel-memory.js";
import type { Response } from "../core/material/response.js";
import { type PackedBitmap, packedRow } from "../core/packed-bits.js";
import { type DoseRowSink, doseStride, exposeRows, type PackedRows } from "./exposure.js";
import type { ExposurePlan } from "./exposure-plan.js";
import { addResponse, responseSteps, scaleRow } from "./response-rows.js";

/** What a piece that turns under the beam changes in its exposure. */
export interface RoundExposure {
  /** Whether a row's last pixel and its first are neighbours; columns are then a multiple of 8. */
  readonly closed: boolean;
  /** Dose of row y over that of the job: rows of a cone pass under the beam more or less quickly. */
  readonly doseOfRow: (y: number) => number;
}

export const FLAT_EXPOSURE: RoundExposure = { closed: false, doseOfRow: () => 1 };

/**
 * Predicted luminance factor of each pixel, the mean of the response over the pixel's samples, for several doses at once
 * (the process spread): dose field once, response as often as asked.
 *
 * The response acts on the finely sampled dose and the mean is taken afterwards; the order cannot be swapped.
 *
 * @param doseFactors multiples of the nominal dose, e.g. [1, 0.9, 1.1]
 * @param out one Float32Array of (endRow − firstRow) × columns for each dose factor, from any memory, overwritten
 */
export function predictLuminance(
  memory: KernelMemory,
  plan: ExposurePlan,
  response: Response,
  packedRow: PackedRows,
  columns: number,
  rows: number,
  firstRow: number,
  endRow: number,
  doseFactors: readonly number[],
  out: readonly Float32Array[],
  { closed, doseOfRow }: RoundExposure = FLAT_EXPOSURE,
): void {
  const release = memory.mark();
  const { samplesAlong, samplesAcross } = plan;
  const stride = doseStride(columns);
  const perPixel = 1 / (samplesAlong * samplesAcross);
  const steps = responseSteps(memory, response);
  const sums = doseFactors.map(() => memory.float32(stride));
  const pixels = sums.map((sum) => sum.subarray(0, columns));
  const respond: DoseRowSink = (dose, y, sampleAcross) => {
    const doseHere = doseOfRow(y);
    for (let f = 0; f < doseFactors.length; f++) {
      const sum = sums[f];
      if (sampleAcross === 0) sum.fill(0);
      addResponse(memory, steps, doseFactors[f] * doseHere, dose, samplesAlong, stride, sum, columns);
      if (sampleAcross < samplesAcross - 1) continue;
      scaleRow(memory, sum, perPixel, columns);
      out[f].set(pixels[f], (y - firstRow) * columns);
    }
  };
  exposeRows(memory, plan, packedRow, columns, rows, firstRow, endRow, respond, closed);
  release();
}

/**
 * The same of a bitmap, or of rows `firstRow`..`endRow` (exclusive) of it: one plane of luminance factors for each dose
 * factor, row-major.
 */
export function predictBitmap(
  memory: KernelMemory,
  plan: ExposurePlan,
  response: Response,
  bitmap: PackedBitmap,
  doseFactors: readonly number[],
  firstRow = 0,
  endRow = bitmap.rows,
): Float32Array[] {
  const { columns, rows } = bitmap;
  const row = (y: number): Uint8Array => packedRow(bitmap, y);
  const out = doseFactors.map(() => new Float32Array(columns * (endRow - firstRow)));
  predictLuminance(memory, plan, response, row, columns, rows, firstRow, endRow, doseFactors, out);
  return out;
}
