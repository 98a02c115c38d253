import { plane as corePlane, type Pitch, type Plane, type PlaneData, type ToneSpace } from "../core/plane.js";
import { invalidOption } from "./job.js";

/**
 * Wrap an array as a plane, without copying.
 *
 * @param data [rows × columns], row after row
 * @param pitch of the pixels in mm, for a picture on the engraving grid
 * @throws SpotpitchError `OPTION_INVALID` if the length does not fit
 */
export function plane<Space extends ToneSpace, Data extends PlaneData>(
  space: Space,
  data: Data,
  rows: number,
  columns: number,
  pitch?: Pitch,
): Plane<Space, Data> {
  if (data.length === rows * columns) return corePlane(space, data, rows, columns, pitch);
  throw invalidOption(
    "data",
    `data cannot be used: ${columns} × ${rows} pixels need ${columns * rows} values, and it has ${data.length}.`,
  );
}
