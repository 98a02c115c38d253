import type { Response } from "../core/response.js";
import { type BitmapRows, exposeRows } from "./exposure.js";
import type { ExposurePlan } from "./exposure-plan.js";

/**
 * Predicted luminance factor of each pixel, the mean of the response over the pixel's samples, for several doses at once
 * (the process spread): dose field once, response as often as asked.
 *
 * The response acts on the finely sampled dose and the mean is taken afterwards; the order cannot be swapped.
 *
 * @param doseFactors multiples of the nominal dose, e.g. [1, 0.9, 1.1]
 * @param out one Float32Array of (endRow − firstRow) × columns for each dose factor, overwritten
 */
export function predictLuminance(
  plan: ExposurePlan,
  response: Response,
  bitmapRow: BitmapRows,
  columns: number,
  rows: number,
  firstRow: number,
  endRow: number,
  doseFactors: readonly number[],
  out: readonly Float32Array[],
): void {
  for (const plane of out) plane.fill(0);
  exposeRows(plan, bitmapRow, columns, rows, firstRow, endRow, (dose, y) => {
    for (let f = 0; f < doseFactors.length; f++) {
      addResponse(
        response,
        dose,
        doseFactors[f],
        plan.samplesAlong,
        out[f],
        (y - firstRow) * columns,
        columns,
      );
    }
  });
  const perPixel = 1 / (plan.samplesAlong * plan.samplesAcross);
  for (const plane of out) {
    for (let i = 0; i < plane.length; i++) plane[i] *= perPixel;
  }
}

function addResponse(
  response: Response,
  dose: Float32Array,
  doseFactor: number,
  samplesAlong: number,
  out: Float32Array,
  offset: number,
  columns: number,
): void {
  const { table, stepsPerDose } = response;
  const scale = doseFactor * stepsPerDose;
  const last = table.length - 2;
  for (let x = 0, i = 0; x < columns; x++) {
    let sum = 0;
    for (let s = 0; s < samplesAlong; s++, i++) {
      const at = dose[i] * scale;
      if (at >= last) sum += table[last];
      else {
        const step = at | 0;
        sum += table[step] + (table[step + 1] - table[step]) * (at - step);
      }
    }
    out[offset + x] += sum;
  }
}
