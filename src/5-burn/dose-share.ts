import type { BitmapRows } from "../core/packed-bits.js";
import { doseStride, type Exposure, exposeRows } from "./exposure.js";
import { FLAT_EXPOSURE, type RoundExposure } from "./predict.js";

/** Rows exposed at a time. With fewer, lines within reach of the spot would be exposed too often. */
const BAND_ROWS = 64;
/** On a larger bitmap only some of the bands are looked at, evenly spread. */
const MAX_PX = 4e6;

/**
 * Share of the surface whose dose is above a limit. A large bitmap is sampled in bands of rows.
 *
 * @param limit dose; 1 is the mean dose of a solid fill
 */
export function shareAbove(
  { plan, memory }: Pick<Exposure, "plan" | "memory">,
  bitmap: BitmapRows,
  limit: number,
  { doseOfRow }: Pick<RoundExposure, "doseOfRow"> = FLAT_EXPOSURE,
): number {
  const { columns, rows } = bitmap;
  const every = Math.ceil((columns * rows) / MAX_PX);
  const stride = doseStride(columns);
  let [above, seen] = [0, 0];
  for (let firstRow = 0; firstRow < rows; firstRow += every * BAND_ROWS) {
    const endRow = Math.min(rows, firstRow + BAND_ROWS);
    exposeRows({ plan, ...(memory && { memory }) }, bitmap, { firstRow, endRow }, (dose, y) => {
      const least = limit / doseOfRow(y);
      for (let s = 0; s < plan.samplesAlong; s++) {
        for (let i = s * stride; i < s * stride + columns; i++) if (dose[i] > least) above++;
      }
      seen += plan.samplesAlong * columns;
    });
  }
  return above / seen;
}
