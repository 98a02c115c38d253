import { modulo } from "../../core/modulo.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";

/** The grid of a whole piece. */
export interface PieceGrid {
  readonly columns: number;
  readonly rows: number;
  /** Whether the last pixel of a row is a neighbour of the first. */
  readonly closed: boolean;
}

/** A part of a plane [rows × columns]. Columns wrap around on a closed piece; beyond the piece there is 0. */
export function areaOf<Values extends Uint8Array | Uint16Array>(
  grid: PieceGrid,
  plane: Values,
  { left, top, columns, rows }: PixelRectangle,
): Values {
  const Plane = plane.constructor as new (length: number) => Values;
  const out = new Plane(columns * rows);
  for (let y = Math.max(0, -top); y < Math.min(rows, grid.rows - top); y++) {
    const row = (top + y) * grid.columns;
    for (let x = 0; x < columns; ) {
      const column = grid.closed ? modulo(left + x, grid.columns) : left + x;
      if (column < 0) {
        x = -left;
        continue;
      }
      const count = Math.min(grid.columns - column, columns - x);
      if (count <= 0) break;
      out.set(plane.subarray(row + column, row + column + count) as never, y * columns + x);
      x += count;
    }
  }
  return out;
}

/** The reverse. The area lies on the piece. */
export function putArea(
  grid: PieceGrid,
  plane: Uint8Array,
  { left, top, columns, rows }: PixelRectangle,
  values: Uint8Array,
): void {
  for (let y = 0; y < rows; y++) {
    const row = (top + y) * grid.columns;
    for (let x = 0; x < columns; x++) {
      plane[row + (grid.closed ? modulo(left + x, grid.columns) : left + x)] = values[y * columns + x];
    }
  }
}
