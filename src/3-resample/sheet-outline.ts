import type { EdgeRows } from "../core/picture-edge.js";
import type { Pitch } from "../core/plane.js";
import { type Outline, ovalShare, rectangleShare } from "./outline.js";
import { type PhotoOnSheet, radiusOfRowMm, raysOfSheet } from "./photo-on-sheet.js";

/**
 * The outline of a picture that is bent for a cone: `outlineRows` on the unrolled sheet. Outside the picture nothing is kept, so
 * no filter can leave dots there.
 *
 * @param picture its rectangle on the sheet
 */
export function sheetOutlineRows(
  outline: Outline,
  sheet: PhotoOnSheet,
  picture: NonNullable<PhotoOnSheet["picture"]>,
  { columns, rows, pitch }: { readonly columns: number; readonly rows: number; readonly pitch: Pitch },
): EdgeRows {
  const { topMm, widthMm, heightMm } = picture;
  const { toRight, down } = raysOfSheet(sheet, columns);
  const inOval = ovalShare(outline, widthMm, heightMm, pitch);
  const inRectangle = rectangleShare(outline);
  const shareAt = (xMm: number, yMm: number): number => {
    if (outline.oval) return inOval(xMm, yMm);
    const [alongMm, acrossMm] = [widthMm / 2 - Math.abs(xMm), heightMm / 2 - Math.abs(yMm)];
    return alongMm < 0 || acrossMm < 0 ? 0 : inRectangle(alongMm, acrossMm);
  };
  const middleMm = topMm + heightMm / 2;
  const out = new Float32Array(columns);
  return (y) => {
    const radiusMm = radiusOfRowMm(sheet, y, rows);
    for (let x = 0; x < columns; x++) out[x] = shareAt(radiusMm * toRight[x], radiusMm * down[x] - middleMm);
    return out;
  };
}
