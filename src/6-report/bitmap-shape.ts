import { SpotpitchError } from "../core/errors.js";
import { type Bitmap, columnsOf, type Pitch, rowsOf } from "../core/plane.js";

/** What a file says of a bitmap before its first row. */
export interface BitmapShape {
  readonly columns: number;
  readonly rows: number;
  readonly pitch: Pitch;
}

/** Shape of a bitmap. Throws `INTERNAL` where it has no pixels (no format allows that) or no pitch. */
export function shapeOf(bitmap: Bitmap): BitmapShape {
  const columns = columnsOf(bitmap);
  const rows = rowsOf(bitmap);
  if (columns < 1 || rows < 1)
    throw new SpotpitchError("INTERNAL", "A bitmap file needs at least one pixel.");
  if (!bitmap.pitch) throw new SpotpitchError("INTERNAL", "A bitmap file needs the pitch of its pixels.");
  return { columns, rows, pitch: bitmap.pitch };
}
