import type { Pitch } from "../../core/plane.js";
import { refusal } from "../../core/refusals/refusals.js";

/** The facts about a bitmap that come before its first row in a file. */
export interface BitmapShape {
  readonly columns: number;
  readonly rows: number;
  /** Power levels, 2..256: 1 bit per pixel at 2 levels, otherwise 8. */
  readonly levels: number;
  readonly pitch: Pitch;
}

/** Throws `INTERNAL` for a bitmap without pixels: no format allows that. */
export function checkShape({ columns, rows }: Pick<BitmapShape, "columns" | "rows">): void {
  if (columns < 1 || rows < 1) throw refusal("bitmap-without-pixels", {});
}
