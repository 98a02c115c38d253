import { type Frustum, onSheet, type SheetPoint, sheetBox } from "../../core/physics/frustum.js";
import type { PieceView } from "./preview.js";

/** Maximum length of the longer side of the unrolled sheet on the screen. */
const MAX_LONGER_PX = 1200;

/**
 * The unrolled sheet of a cone, true to scale everywhere. In the source picture every row is one turn.
 *
 * @param picture [rows × columns] luminance factors
 * @param pxPerMm screen pixels per mm half-way down, as in the picture
 */
export function coneView(
  picture: Float32Array,
  columns: number,
  rows: number,
  cone: Frustum,
  pxPerMm: number,
): PieceView {
  const box = sheetBox(cone);
  const [widthMm, heightMm] = [box.rightMm - box.leftMm, box.bottomMm - box.topMm];
  const scale = Math.min(pxPerMm, MAX_LONGER_PX / Math.max(widthMm, heightMm));
  const shown = {
    columns: Math.max(1, Math.round(widthMm * scale)),
    rows: Math.max(1, Math.round(heightMm * scale)),
  };
  const luminance = new Float32Array(shown.columns * shown.rows);
  for (let i = 0; i < luminance.length; i++) {
    const xMm = box.leftMm + ((i % shown.columns) + 0.5) / scale;
    const yMm = box.topMm + (Math.floor(i / shown.columns) + 0.5) / scale;
    const [turn, down] = offSheet(cone, { xMm, yMm });
    const isBeside = turn < 0 || turn >= 1 || down < 0 || down >= 1;
    luminance[i] = isBeside ? Number.NaN : between(picture, columns, rows, turn, down);
  }
  return {
    ...shown,
    luminance,
    pxPerMm: scale,
    place: (turn, down) => {
      const { xMm, yMm } = onSheet(cone, turn, down);
      return [(xMm - box.leftMm) * scale, (yMm - box.topMm) * scale];
    },
  };
}

/** The inverse of `onSheet`. Beside the sheet the results are outside 0..1. */
function offSheet(cone: Frustum, { xMm, yMm }: SheetPoint): readonly [turn: number, down: number] {
  const widens = cone.bottomMm > cone.topMm;
  const fromApexMm = widens ? yMm : -yMm;
  const beyond = (Math.hypot(xMm, fromApexMm) - cone.innerRadiusMm) / cone.slantMm;
  return [0.5 + Math.atan2(xMm, fromApexMm) / cone.sectorAngleRad, widens ? beyond : 1 - beyond];
}

/** Bilinear interpolation; columns wrap around. */
function between(picture: Float32Array, columns: number, rows: number, turn: number, down: number): number {
  const x = turn * columns - 0.5;
  const y = Math.min(rows - 1, Math.max(0, down * rows - 0.5));
  const left = Math.floor(x);
  const top = Math.min(rows - 1, Math.floor(y));
  const row = (line: number): number => {
    const from = Math.min(rows - 1, line) * columns;
    const first = picture[from + ((left + columns) % columns)];
    return first + (picture[from + ((left + 1) % columns)] - first) * (x - left);
  };
  const upper = row(top);
  return upper + (row(top + 1) - upper) * (y - top);
}
