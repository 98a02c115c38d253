import type { PixelRectangle } from "../core/pixel-rectangle.js";
import { type CardGrid, type MmRectangle, mmOf, pixelsOf } from "./card-grid.js";

/** Thickness of the frame along the edge of a card. */
export const FRAME_MM = 0.8;
/** Side of the square in each corner; it covers the corner of the frame. */
export const CORNER_MM = 3;

/**
 * Corners in the order of a clock's hand, from the upper left: a square with a square hole, one without its inner quarter, and two
 * whole ones. Any three of them tell the fourth, how the card is turned, and whether it is seen from behind.
 */
export const cornerShapes = ["ring", "notched", "solid", "solid"] as const;
export type CornerShape = (typeof cornerShapes)[number];

export interface Corner {
  readonly shape: CornerShape;
  readonly area: PixelRectangle;
}

/** The four corners of a card, in the order of `cornerShapes`. */
export function cornersOf({ columns, rows, pitch }: CardGrid): Corner[] {
  const side = pixelsOf({ leftMm: 0, topMm: 0, widthMm: CORNER_MM, heightMm: CORNER_MM }, pitch);
  const right = columns - side.columns;
  const lower = rows - side.rows;
  const places = [
    [0, 0],
    [right, 0],
    [right, lower],
    [0, lower],
  ] as const;
  return cornerShapes.map((shape, k) => ({
    shape,
    area: { ...side, left: places[k][0], top: places[k][1] },
  }));
}

/** What stays bare inside a corner of that shape. */
export function bareInside({ shape, area }: Corner, grid: CardGrid): PixelRectangle | undefined {
  if (shape === "solid") return undefined;
  const { leftMm, topMm, widthMm, heightMm } = mmOf(area, grid.pitch);
  const half: MmRectangle = {
    leftMm,
    topMm: topMm + heightMm / 2,
    widthMm: widthMm / 2,
    heightMm: heightMm / 2,
  };
  // The notch is the quarter that points to the middle of the card: at the upper right the lower left one.
  if (shape === "notched") return pixelsOf(half, grid.pitch);
  const middle = { ...half, leftMm: leftMm + widthMm / 4, topMm: topMm + heightMm / 4 };
  return pixelsOf(middle, grid.pitch);
}

/** The four sides of the frame. Those at the left and right end burn on every line, so no line of a card is blank. */
export function frameOf({ columns, rows, pitch }: CardGrid): PixelRectangle[] {
  const along = Math.round(FRAME_MM / pitch.alongMm);
  const across = Math.round(FRAME_MM / pitch.acrossMm);
  return [
    { left: 0, top: 0, columns, rows: across },
    { left: 0, top: rows - across, columns, rows: across },
    { left: 0, top: 0, columns: along, rows },
    { left: columns - along, top: 0, columns: along, rows },
  ];
}
