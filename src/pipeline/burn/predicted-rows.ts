import type { Frame } from "../../3-resample/frame.js";
import { predictLuminance } from "../../5-burn/predict.js";
import { type PackedBitmap, packedRow } from "../../core/packed-bits.js";
import type { PlaneRows } from "../../core/plane-rows.js";
import type { Job } from "../job.js";
import { roundExposure } from "../photo/round-piece.js";

/** Rows predicted at a time. With fewer, lines within reach of the spot would be exposed too often. */
const BAND_ROWS = 64;

/** Predicted luminance factors of a bitmap at nominal dose, row by row. */
export function predictedRows({ memory, model }: Job, bitmap: PackedBitmap, frame: Frame): PlaneRows {
  const { columns, rows } = bitmap;
  const { plan, response } = model;
  const round = roundExposure(frame);
  const band = new Float32Array(columns * Math.min(rows, BAND_ROWS));
  let bandAt = -1;
  return (y) => {
    const first = y - (y % BAND_ROWS);
    if (first !== bandAt) {
      const end = Math.min(rows, first + BAND_ROWS);
      predictLuminance(
        { plan, response, memory },
        { columns, rows, row: (line) => packedRow(bitmap, line), closed: round.closed },
        { firstRow: first, endRow: end },
        { factors: [1], doseOfRow: round.doseOfRow },
        [band],
      );
      bandAt = first;
    }
    return band.subarray((y - first) * columns, (y - first + 1) * columns);
  };
}
