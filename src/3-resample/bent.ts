import { type Frustum, frustum } from "../core/physics/frustum.js";
import type { Pitch } from "../core/plane.js";
import { lengthMmFromPitchCount, pitchCountFromLengthMm } from "../core/units.js";
import type { Frame } from "./frame.js";
import { gridOfSheet, type PhotoOnSheet } from "./photo-on-sheet.js";

/** A picture bent for the grid of a cone. */
export interface BentPicture {
  readonly frame: Frame;
  /** From the circle where the cone begins, down its slope, to the upper and lower end of the picture with its corners. */
  readonly startMm: number;
  readonly endMm: number;
  /** Widths of the bitmap and of the picture, as shares of a whole turn. */
  readonly turn: number;
  readonly pictureTurn: number;
  /** Circumference where the picture takes the largest part of it. */
  readonly roundMm: number;
}

/**
 * A rectangle that lies undistorted on a cone, upright on its middle line, as on a flat sheet that is rolled up. On the unrolled
 * sheet it is a rectangle in a sector of a ring. Rows of the bitmap are arcs round the apex, at equal distances, and columns are
 * rays at equal angles. So the bitmap holds the part of the sheet between
 *
 *     r = n          the distance of the side that is near the apex, met in its middle
 *     r = √(f² + (w/2)²)   the distance of the corners of the far side
 *     ± atan(w/2n)   the directions of the corners of the near side
 *
 * for a picture of width w whose sides cross the middle line at distances n and f from the apex. Rounding to whole pixels adds bare
 * surface at the far end and at both sides.
 *
 * @param flat the picture as a flat one
 * @param downMm from the top circle of the cone to the top of the picture
 */
export function bentFrame(flat: Frame, cone: Frustum, downMm: number, pitch: Pitch): BentPicture {
  const widens = cone.bottomMm > cone.topMm;
  const { widthMm, heightMm } = flat;
  const atTopMm = widens ? cone.innerRadiusMm + downMm : cone.outerRadiusMm - downMm;
  const nearMm = widens ? atTopMm : atTopMm - heightMm;
  const farMm = nearMm + heightMm;
  const cornerMm = Math.hypot(farMm, widthMm / 2);
  const halfAngle = Math.atan2(widthMm / 2, nearMm);

  const rows = wholeUp(cornerMm - nearMm, pitch.acrossMm);
  const slantMm = lengthMmFromPitchCount(rows, pitch.acrossMm);
  const middleMm = nearMm + slantMm / 2;
  const columns = wholeUp(2 * halfAngle * middleMm, pitch.alongMm);
  const angleRad = lengthMmFromPitchCount(columns, pitch.alongMm) / middleMm;

  const diameterMm = (radiusMm: number): number => (radiusMm * cone.sectorAngleRad) / Math.PI;
  const [upperMm, lowerMm] = widens ? [nearMm, nearMm + slantMm] : [nearMm + slantMm, nearMm];
  const circles = { topMm: diameterMm(upperMm), bottomMm: diameterMm(lowerMm), ring: false };
  const part = frustum(circles.topMm, circles.bottomMm, slantMm);
  const size = { columns, rows, angleRad };
  const sheet = pictureOnSheet(flat, part, { ...size, topMm: widens ? nearMm : -farMm }, pitch);
  const fromTopMm = (radiusMm: number) =>
    widens ? radiusMm - cone.innerRadiusMm : cone.outerRadiusMm - radiusMm;
  return {
    frame: {
      columns,
      rows,
      widthMm: lengthMmFromPitchCount(columns, pitch.alongMm),
      heightMm: slantMm,
      window: { left: 0, top: 0, width: sheet.columns, height: sheet.rows },
      placement: { left: 0, top: 0, columns, rows },
      closed: false,
      circles,
      sheet,
    },
    startMm: fromTopMm(upperMm),
    endMm: fromTopMm(lowerMm),
    turn: angleRad / cone.sectorAngleRad,
    pictureTurn: (2 * halfAngle) / cone.sectorAngleRad,
    roundMm: nearMm * cone.sectorAngleRad,
  };
}

/** Pixels that hold a length. */
const wholeUp = (lengthMm: number, pitchMm: number): number =>
  Math.max(1, Math.ceil(pitchCountFromLengthMm(lengthMm, pitchMm) - 1e-6));

/** @param size.topMm of the picture on the sheet, downwards from the apex */
function pictureOnSheet(
  { window, placement, heightMm }: Frame,
  part: Frustum,
  size: Pick<PhotoOnSheet, "columns" | "rows" | "angleRad"> & { readonly topMm: number },
  pitch: Pitch,
): PhotoOnSheet {
  const widthMm = lengthMmFromPitchCount(placement.columns, pitch.alongMm);
  const shownMm = lengthMmFromPitchCount(placement.rows, pitch.acrossMm);
  const topMm = size.topMm + (heightMm - shownMm) / 2;
  const pxPerMmAlong = window.width / widthMm;
  const pxPerMmAcross = window.height / shownMm;
  return {
    frustum: part,
    pxPerMmAlong,
    pxPerMmAcross,
    apexXPx: window.left + window.width / 2,
    apexYPx: window.top - topMm * pxPerMmAcross,
    angleRad: size.angleRad,
    window,
    picture: { topMm, widthMm, heightMm: shownMm },
    ...gridOfSheet(size, part, Math.max(pxPerMmAlong, pxPerMmAcross), pitch),
  };
}
