import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { lettering } from "./lettering.js";

/** An 8-bit RGB picture, row-major. */
export interface RgbPicture {
  readonly columns: number;
  readonly rows: number;
  readonly rgb: Uint8Array;
}

export type Grey = number;

export function blankPicture(columns: number, rows: number, grey: Grey): RgbPicture {
  return { columns, rows, rgb: new Uint8Array(3 * columns * rows).fill(grey) };
}

/** Paint each pixel of a rectangle. `paint` gets the pixel's place in the rectangle and the index of its three bytes. */
export function fillWith(
  { rgb, columns }: RgbPicture,
  area: PixelRectangle,
  paint: (x: number, y: number, rgb: Uint8Array, at: number) => void,
): void {
  for (let y = 0; y < area.rows; y++) {
    const from = 3 * ((area.top + y) * columns + area.left);
    for (let x = 0; x < area.columns; x++) paint(x, y, rgb, from + 3 * x);
  }
}

/** A line of one pixel just outside a rectangle. `greyAt` gets the distance along the side. */
export function frameRound(picture: RgbPicture, area: PixelRectangle, greyAt: (along: number) => Grey): void {
  const [left, top] = [area.left - 1, area.top - 1];
  const [right, bottom] = [area.left + area.columns, area.top + area.rows];
  const dot = (x: number, y: number, along: number): void => {
    if (x < 0 || y < 0 || x >= picture.columns || y >= picture.rows) return;
    const at = 3 * (y * picture.columns + x);
    picture.rgb.fill(greyAt(along), at, at + 3);
  };
  for (let x = left; x <= right; x++) {
    dot(x, top, x - left);
    dot(x, bottom, x - left);
  }
  for (let y = top; y <= bottom; y++) {
    dot(left, y, y - top);
    dot(right, y, y - top);
  }
}

/** Pixels per unit of lettering, and half the pen's width in pixels. */
const LETTER_PX = 1.3;
const PEN_PX = 0.62;

export const textWidth = (text: string): number => Math.ceil(LETTER_PX * lettering(text).width);

/** One line of text. Its baseline starts at (left, baseline). */
export function drawText(
  picture: RgbPicture,
  text: string,
  left: number,
  baseline: number,
  grey: Grey,
): void {
  for (const stroke of lettering(text).strokes) {
    const points = stroke.map((v, i) => (i % 2 === 0 ? left + v * LETTER_PX : baseline - v * LETTER_PX));
    drawStroke(picture, points, grey);
  }
}

/** A pen line with soft edges. Each pixel is mixed by the largest coverage of all segments. */
function drawStroke({ rgb, columns, rows }: RgbPicture, points: readonly number[], grey: Grey): void {
  const xs = points.filter((_, i) => i % 2 === 0);
  const ys = points.filter((_, i) => i % 2 === 1);
  const reach = PEN_PX + 1;
  const [x0, x1] = [Math.floor(Math.min(...xs) - reach), Math.ceil(Math.max(...xs) + reach)];
  const [y0, y1] = [Math.floor(Math.min(...ys) - reach), Math.ceil(Math.max(...ys) + reach)];
  for (let y = Math.max(0, y0); y <= Math.min(rows - 1, y1); y++) {
    for (let x = Math.max(0, x0); x <= Math.min(columns - 1, x1); x++) {
      let nearest = Number.POSITIVE_INFINITY;
      for (let k = 0; k + 1 < xs.length; k++) {
        nearest = Math.min(nearest, distanceTo([xs[k], ys[k]], [xs[k + 1], ys[k + 1]], x, y));
      }
      const covered = Math.min(1, Math.max(0, PEN_PX + 0.5 - nearest));
      if (covered === 0) continue;
      const at = 3 * (y * columns + x);
      for (let c = at; c < at + 3; c++) rgb[c] = Math.round(rgb[c] + covered * (grey - rgb[c]));
    }
  }
}

type Point = readonly [x: number, y: number];

/** From (x, y) to the nearest point of the segment from a to b. */
function distanceTo([ax, ay]: Point, [bx, by]: Point, x: number, y: number): number {
  const [dx, dy] = [bx - ax, by - ay];
  const length2 = dx * dx + dy * dy;
  const along = length2 === 0 ? 0 : ((x - ax) * dx + (y - ay) * dy) / length2;
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}
