import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { Frame } from "./frame.js";
import type { PhotoOnSheet } from "./photo-on-sheet.js";

/**
 * A large rectangle of pixels within a picture that is bent on its bitmap. It reaches from the circle through the corners of the
 * near side to the circle that touches the far side, and sideways as far as this circle stays within the picture's width. Undefined
 * if the bend leaves none.
 *
 * @param within size of the middle part of the picture that counts
 */
export function insideBent(
  { columns, rows }: Pick<Frame, "columns" | "rows">,
  { frustum, angleRad }: PhotoOnSheet,
  picture: NonNullable<PhotoOnSheet["picture"]>,
  within: { readonly widthMm: number; readonly heightMm: number },
): PixelRectangle | undefined {
  const { innerRadiusMm, slantMm, topMm, bottomMm } = frustum;
  const middleMm = Math.abs(picture.topMm + picture.heightMm / 2);
  const farMm = middleMm + within.heightMm / 2;
  const nearMm = Math.hypot(middleMm - within.heightMm / 2, within.widthMm / 2);
  const rowOf = (radiusMm: number): number => {
    const share = (radiusMm - innerRadiusMm) / slantMm;
    return rows * (bottomMm > topMm ? share : 1 - share);
  };
  const [first, last] = [rowOf(nearMm), rowOf(farMm)].sort((a, b) => a - b);
  const halfColumns = (columns * Math.asin(Math.min(1, within.widthMm / 2 / farMm))) / angleRad;
  const [left, right] = [Math.ceil(columns / 2 - halfColumns), Math.floor(columns / 2 + halfColumns)];
  const [top, bottom] = [Math.ceil(first), Math.floor(last)];
  if (nearMm >= farMm || right <= left || bottom <= top) return undefined;
  return { left, top, columns: right - left, rows: bottom - top };
}
