import { type Frustum, onSheet, type SheetPoint, sheetBox } from "../../core/physics/frustum.js";
import type { PieceView } from "./preview.js";

/** Maximum length of the longer side of the unrolled sheet on the screen. */
const MAX_LONGER_PX = 1200;

/** The part of an unrolled sheet that a bitmap covers. */
export interface SheetPart {
  readonly cone: Frustum;
  /** Of the columns of the bitmap together. */
  readonly angleRad: number;
}

/**
 * The unrolled sheet of a cone, true to scale everywhere, or the part of it that the bitmap covers.
 *
 * @param picture [rows × columns] luminance factors; every row is a circle of the cone, or a part of one
 * @param pxPerMm screen pixels per mm half-way down, as in the picture
 */
export function coneView(picture: GridPicture, { cone, angleRad }: SheetPart, pxPerMm: number): PieceView {
  const box = sheetBox(cone, angleRad);
  const [widthMm, heightMm] = [box.rightMm - box.leftMm, box.bottomMm - box.topMm];
  const scale = Math.min(pxPerMm, MAX_LONGER_PX / Math.max(widthMm, heightMm));
  const shown = {
    columns: Math.max(1, Math.round(widthMm * scale)),
    rows: Math.max(1, Math.round(heightMm * scale)),
  };
  const luminance = new Float32Array(shown.columns * shown.rows);
  const closed = angleRad === cone.sectorAngleRad;
  for (let i = 0; i < luminance.length; i++) {
    const xMm = box.leftMm + ((i % shown.columns) + 0.5) / scale;
    const yMm = box.topMm + (Math.floor(i / shown.columns) + 0.5) / scale;
    const [turn, down] = offSheet({ cone, angleRad }, { xMm, yMm });
    const isBeside = turn < 0 || turn >= 1 || down < 0 || down >= 1;
    luminance[i] = isBeside ? Number.NaN : between(picture, turn, down, closed);
  }
  return {
    ...shown,
    luminance,
    pxPerMm: scale,
    place: (turn, down) => {
      const { xMm, yMm } = onSheet(cone, turn, down, angleRad);
      return [(xMm - box.leftMm) * scale, (yMm - box.topMm) * scale];
    },
  };
}

interface GridPicture {
  readonly values: Float32Array;
  readonly columns: number;
  readonly rows: number;
}

/** The inverse of `onSheet`. Beside the sheet the results are outside 0..1. */
function offSheet({ cone, angleRad }: SheetPart, { xMm, yMm }: SheetPoint): readonly [number, number] {
  const widens = cone.bottomMm > cone.topMm;
  const fromApexMm = widens ? yMm : -yMm;
  const beyond = (Math.hypot(xMm, fromApexMm) - cone.innerRadiusMm) / cone.slantMm;
  return [0.5 + Math.atan2(xMm, fromApexMm) / angleRad, widens ? beyond : 1 - beyond];
}

/** Bilinear interpolation. Columns wrap around a closed picture; otherwise the outermost ones repeat. */
function between(
  { values, columns, rows }: GridPicture,
  turn: number,
  down: number,
  closed: boolean,
): number {
  const x = turn * columns - 0.5;
  const y = Math.min(rows - 1, Math.max(0, down * rows - 0.5));
  const left = Math.floor(x);
  const top = Math.min(rows - 1, Math.floor(y));
  const column = (at: number): number =>
    closed ? (at + columns) % columns : Math.min(columns - 1, Math.max(0, at));
  const row = (line: number): number => {
    const from = Math.min(rows - 1, line) * columns;
    const first = values[from + column(left)];
    return first + (values[from + column(left + 1)] - first) * (x - left);
  };
  const upper = row(top);
  return upper + (row(top + 1) - upper) * (y - top);
}
