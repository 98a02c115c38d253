import type { Pitch } from "../../core/plane.js";
import { refusal } from "../../core/refusals/refusals.js";

/** What a file says of a bitmap before its first row. */
export interface BitmapShape {
  readonly columns: number;
  readonly rows: number;
  /** Power levels, 2..256: 1 bit a pixel, or 8. */
  readonly levels: number;
  readonly pitch: Pitch;
}

/** Throws `INTERNAL` for a bitmap without pixels: no format allows that. */
export function checkShape({ columns, rows }: Pick<BitmapShape, "columns" | "rows">): void {
  if (columns < 1 || rows < 1) throw refusal("bitmap-without-pixels", {});
}
