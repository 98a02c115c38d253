import { plane as corePlane, type Pitch, type Plane, type PlaneData, type ToneSpace } from "../core/plane.js";
import { invalidOption } from "./job.js";

/**
 * Wrap an array as a plane, without copying.
 *
 * @param data [rows × columns], row after row
 * @param pitch of the pixels in mm, for a picture on the engraving grid
 * @throws SpotpitchError `OPTION_INVALID` if rows and columns are no whole numbers, or the length does not fit
 */
export function plane<Space extends ToneSpace, Data extends PlaneData>(
  space: Space,
  data: Data,
  rows: number,
  columns: number,
  pitch?: Pitch,
): Plane<Space, Data> {
  for (const [side, length] of Object.entries({ rows, columns })) {
    if (!Number.isSafeInteger(length) || length < 1) {
      throw invalidOption(side, `${side} takes a whole number, 1 or more; got ${String(length)}.`);
    }
  }
  if (data.length === rows * columns) return corePlane(space, data, rows, columns, pitch);
  throw invalidOption(
    "data",
    `data cannot be used: ${columns} × ${rows} pixels need ${columns * rows} values, and it has ${data.length}.`,
  );
}
