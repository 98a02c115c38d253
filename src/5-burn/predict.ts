import { createKernelMemory } from "../core/kernel-memory.js";
import { type BitmapRows, type PackedBitmap, rowsOfBitmap } from "../core/packed-bits.js";
import type { RowRange } from "../core/plane-rows.js";
import { type DoseRowSink, doseStride, type Exposure, exposeRows } from "./exposure.js";
import { addResponse, responseSteps, scaleRow } from "./response-kernels.js";

/** Changes in the exposure of a piece that turns under the beam. */
export interface RoundExposure {
  /** Whether the last pixel of a row is a neighbour of the first. `columns` is then a multiple of 8. */
  readonly closed: boolean;
  /** Dose of row y relative to the job: the rows of a cone have different speeds under the beam. */
  readonly doseOfRow: (y: number) => number;
}

export const FLAT_EXPOSURE: RoundExposure = { closed: false, doseOfRow: () => 1 };

/** Doses at which a bitmap is predicted. */
export interface Doses {
  /** Multiples of the nominal dose, for example [1, 0.9, 1.1]. */
  readonly factors: readonly number[];
  /** See `RoundExposure`. Default: 1 for every row. */
  readonly doseOfRow?: RoundExposure["doseOfRow"];
}

/**
 * Predicted luminance factor of each pixel, the mean of the response over the pixel's samples, for several doses at once
 * (a machine that varies). The dose field is computed once, the response for each dose.
 *
 * The response acts on the finely sampled dose, and the mean comes after it. This order matters: the response is not linear.
 *
 * @param bitmap of the exposure plan's power levels
 * @param out [dose factors] of [(endRow − firstRow) × columns], from any memory, overwritten: luminance factors, 0..1
 */
export function predictLuminance(
  { plan, response, memory = createKernelMemory() }: Exposure,
  bitmap: BitmapRows,
  range: RowRange,
  { factors, doseOfRow = FLAT_EXPOSURE.doseOfRow }: Doses,
  out: readonly Float32Array[],
): void {
  const release = memory.mark();
  const { columns } = bitmap;
  const { samplesAlong, samplesAcross } = plan;
  const stride = doseStride(columns);
  const perPixel = 1 / (samplesAlong * samplesAcross);
  const steps = responseSteps(memory, response, { columns, samples: samplesAlong, stride });
  const sums = factors.map(() => memory.float32(stride));
  const pixels = sums.map((sum) => sum.subarray(0, columns));
  const respond: DoseRowSink = (dose, y, sampleAcross) => {
    const doseHere = doseOfRow(y);
    for (let f = 0; f < factors.length; f++) {
      const sum = sums[f];
      if (sampleAcross === 0) sum.fill(0);
      addResponse(steps, factors[f] * doseHere, dose, sum);
      if (sampleAcross < samplesAcross - 1) continue;
      scaleRow(memory, pixels[f], perPixel);
      out[f].set(pixels[f], (y - range.firstRow) * columns);
    }
  };
  exposeRows({ plan, memory }, bitmap, range, respond);
  release();
}

/**
 * The same for a whole bitmap, or for some of its rows.
 *
 * @returns [dose factors] of [(endRow − firstRow) × columns] luminance factors, 0..1
 */
export function predictBitmap(
  exposure: Exposure,
  bitmap: PackedBitmap,
  factors: readonly number[],
  range: RowRange = { firstRow: 0, endRow: bitmap.rows },
): Float32Array[] {
  const out = factors.map(() => new Float32Array(bitmap.columns * (range.endRow - range.firstRow)));
  predictLuminance(exposure, rowsOfBitmap(bitmap), range, { factors }, out);
  return out;
}
