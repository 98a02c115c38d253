import type { BoardPiece, BurnSetting, Place } from "../../src/board/board-piece.js";

export const setting: BurnSetting = {
  pitch: { alongMm: 0.1, acrossMm: 0.1 },
  levels: 2,
  format: "png",
  material: "maple",
  bareColor: "#e3c9a0",
  head: { speedMmPerS: 300, accelerationMmPerS2: 5000, stepTimeS: 0, oneWay: false },
  key: "one",
};

export const piece = (
  name: string,
  columns: number,
  rows: number,
  more: Partial<BoardPiece> = {},
): BoardPiece => ({
  ...{ name, columns, rows, copies: 1, setting },
  bitmap: { path: `${name}.burn.png`, sha256: name },
  ...more,
});

/** The pixels of a place, as a rectangle. */
export const rectangle = ({ left, top, piece: { columns, rows } }: Place) => ({
  left,
  top,
  right: left + columns,
  bottom: top + rows,
});

/** The distance of two rectangles in pixels, along the nearer of the two directions: negative if they overlap. */
export function apart(a: Place, b: Place): number {
  const [one, other] = [rectangle(a), rectangle(b)];
  return Math.max(
    other.left - one.right,
    one.left - other.right,
    other.top - one.bottom,
    one.top - other.bottom,
  );
}
