import { type Frustum, frustum, type SheetBox, sheetBox } from "../core/physics/frustum.js";
import { refusal } from "../core/refusals/refusals.js";
import { lengthMmFromPitchCount } from "../core/units.js";
import { checkSlant, type Wrap } from "../core/wrap.js";
import { type Frame, type FrameRequest, wholePixels } from "./frame.js";
import { gridOfSheet, type PhotoOnSheet } from "./photo-on-sheet.js";

/**
 * Lay a photo round a cone without distortion. Rolling up a sheet keeps every length and angle, so the photo lies flat on the
 * unrolled sheet, and each row of the bitmap reads it along an arc. `cover` fills the box around the whole sheet and loses what
 * lies beside the sheet; `contain` keeps the photo within the sheet; `stretch` makes the photo as wide and as high as the box.
 * The piece goes all the way round in each case. Without a height, the slope is as high as the photo on a cylinder of the middle
 * diameter.
 *
 * @param request `widthMm` is the circumference half-way down
 * Throws `OPTION_CONFLICT` if the slope is too short for the diameters.
 */
export function frameOnSheet(request: FrameRequest, wrap: Wrap): Frame {
  const { sourceColumns, sourceRows, pitch, widthMm: aroundMm, heightMm, fit = "cover" } = request;
  if (aroundMm === undefined) throw refusal("cone-without-circumference", {});
  const wantedMm = heightMm ?? (aroundMm * sourceRows) / sourceColumns;
  const columns = wholePixels(aroundMm, pitch.alongMm);
  const rows = wholePixels(wantedMm, pitch.acrossMm);
  const slantMm = lengthMmFromPitchCount(rows, pitch.acrossMm);
  checkSlant(wrap, slantMm);
  const cone = frustum(wrap.topMm, wrap.bottomMm, slantMm);
  const within = heightMm !== undefined && fit === "contain";
  const box = within ? boxWithin(cone, sourceColumns / sourceRows) : sheetBox(cone);
  const widthPerPx = (box.rightMm - box.leftMm) / sourceColumns;
  const heightPerPx = (box.bottomMm - box.topMm) / sourceRows;
  const stretch = fit === "stretch" && heightMm !== undefined;
  const [alongMmPerPx, acrossMmPerPx] = stretch
    ? [widthPerPx, heightPerPx]
    : [Math.max(widthPerPx, heightPerPx), Math.max(widthPerPx, heightPerPx)];
  const middleMm = (box.topMm + box.bottomMm) / 2;
  const sheet: PhotoOnSheet = {
    frustum: cone,
    pxPerMmAlong: 1 / alongMmPerPx,
    pxPerMmAcross: 1 / acrossMmPerPx,
    apexXPx: sourceColumns / 2,
    apexYPx: sourceRows / 2 - middleMm / acrossMmPerPx,
    angleRad: cone.sectorAngleRad,
    window: { left: 0, top: 0, width: sourceColumns, height: sourceRows },
    ...gridOfSheet({ columns, rows }, cone, Math.max(1 / alongMmPerPx, 1 / acrossMmPerPx), pitch),
  };
  return {
    columns,
    rows,
    widthMm: lengthMmFromPitchCount(columns, pitch.alongMm),
    heightMm: slantMm,
    window: { left: 0, top: 0, width: sheet.columns, height: sheet.rows },
    placement: { left: 0, top: 0, columns, rows },
    closed: true,
    circles: { topMm: wrap.topMm, bottomMm: wrap.bottomMm, ring: true },
    sheet,
  };
}

/** The intervals [left, right) of a photo row whose pixel centres lie on the sheet. */
export function spansOnSheet(sheet: PhotoOnSheet, columns: number, y: number): (readonly [number, number])[] {
  const { frustum: cone, pxPerMmAlong, pxPerMmAcross, apexXPx, apexYPx } = sheet;
  const half = cone.sectorAngleRad / 2;
  const [sine, cosine] = [Math.sin(half), Math.cos(half)];
  const awayMm = ((y + 0.5 - apexYPx) / pxPerMmAcross) * (cone.bottomMm > cone.topMm ? 1 : -1);
  const isOn = (x: number): boolean => {
    const besideMm = Math.abs(x + 0.5 - apexXPx) / pxPerMmAlong;
    const radiusMm = Math.hypot(besideMm, awayMm);
    if (radiusMm < cone.innerRadiusMm || radiusMm > cone.outerRadiusMm) return false;
    // On the inner side of the straight edge of the sheet.
    return besideMm * cosine - awayMm * sine <= 0;
  };
  const spans: (readonly [number, number])[] = [];
  for (let x = 0; x < columns; x++) {
    if (!isOn(x)) continue;
    const left = x;
    while (x < columns && isOn(x)) x++;
    spans.push([left, x]);
  }
  return spans;
}

/** The largest rectangle with this width over height within the sheet, by bisection of its half width. */
function boxWithin(cone: Frustum, aspect: number): SheetBox {
  const { innerRadiusMm, outerRadiusMm, sectorAngleRad } = cone;
  const half = sectorAngleRad / 2;
  /** Room for a rectangle of this width: the inner arc or the straight sides limit its near side, the outer arc its far side. */
  const roomFor = (halfWidthMm: number): readonly [topMm: number, bottomMm: number] => [
    Math.max(innerRadiusMm, half < Math.PI / 2 ? halfWidthMm / Math.tan(half) : 0),
    Math.sqrt(outerRadiusMm ** 2 - halfWidthMm ** 2),
  ];
  let [fits, fails] = [0, outerRadiusMm];
  for (let step = 0; step < 60; step++) {
    const halfWidthMm = (fits + fails) / 2;
    const [topMm, bottomMm] = roomFor(halfWidthMm);
    if (bottomMm - topMm >= (2 * halfWidthMm) / aspect) fits = halfWidthMm;
    else fails = halfWidthMm;
  }
  const [nearMm, farMm] = roomFor(fits);
  const spareMm = (farMm - nearMm - (2 * fits) / aspect) / 2;
  const sides = { leftMm: -fits, rightMm: fits };
  return cone.bottomMm > cone.topMm
    ? { ...sides, topMm: nearMm + spareMm, bottomMm: farMm - spareMm }
    : { ...sides, topMm: -farMm + spareMm, bottomMm: -nearMm - spareMm };
}
