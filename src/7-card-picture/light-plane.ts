import type { Point } from "./card-view.js";

/** Linear light of a picture. */
export interface LightPlane {
  readonly columns: number;
  readonly rows: number;
  /** [rows × columns] 0..1. */
  readonly light: Float32Array;
}

/** Light at a place in pixels, linear between pixels; NaN outside. */
export function lightAt({ columns, rows, light }: LightPlane, [x, y]: Point): number {
  const [u, v] = [x - 0.5, y - 0.5];
  const [left, top] = [Math.floor(u), Math.floor(v)];
  if (left < 0 || top < 0 || left + 1 >= columns || top + 1 >= rows) return Number.NaN;
  const [right, down] = [u - left, v - top];
  const at = top * columns + left;
  const upper = light[at] * (1 - right) + light[at + 1] * right;
  const lower = light[at + columns] * (1 - right) + light[at + columns + 1] * right;
  return upper * (1 - down) + lower * down;
}
