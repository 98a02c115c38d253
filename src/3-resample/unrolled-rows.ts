import { type PhotoOnSheet, radiusOfRowMm, raysOfSheet } from "./photo-on-sheet.js";
import type { SourceRows } from "./resample.js";

/** Rounding may put the outermost point of a sheet just outside a photo that covers the sheet. */
const EDGE_TOLERANCE_PX = 1e-6;

/**
 * A photo read along the circles of a cone, on the fine grid of its sheet, with Catmull–Rom interpolation between pixels. The
 * resampler that reads these rows averages over the pixels of the bitmap.
 *
 * @param photo [rows × columns] linear luminance
 * @param bare luminance outside the photo
 */
export function unrolledRows(
  photo: Float32Array,
  columns: number,
  rows: number,
  sheet: PhotoOnSheet,
  bare: number,
): SourceRows {
  const { pxPerMmAlong, pxPerMmAcross, apexXPx, apexYPx } = sheet;
  const { left, top, width, height } = sheet.window;
  const { toRight, down } = raysOfSheet(sheet, sheet.columns);
  // Photo pixels per mm of radius, by column of the grid.
  const along = toRight.map((share) => share * pxPerMmAlong);
  const across = down.map((share) => share * pxPerMmAcross);
  return (j, out, at, step) => {
    const radiusMm = radiusOfRowMm(sheet, j, sheet.rows);
    for (let i = 0, to = at; i < sheet.columns; i++, to += step) {
      const x = apexXPx + radiusMm * along[i];
      const y = apexYPx + radiusMm * across[i];
      out[to] =
        isOutside(x - left, width) || isOutside(y - top, height) ? bare : cubicAt(photo, columns, rows, x, y);
    }
  };
}

const isOutside = (at: number, length: number): boolean =>
  at < -EDGE_TOLERANCE_PX || at > length + EDGE_TOLERANCE_PX;

/** The photo at a point; pixel k is centred on k + ½. Beyond the edges the edge pixels repeat. */
function cubicAt(photo: Float32Array, columns: number, rows: number, x: number, y: number): number {
  const left = Math.floor(x - 0.5);
  const top = Math.floor(y - 0.5);
  const u = x - 0.5 - left;
  const v = y - 0.5 - top;
  const x0 = within(left - 1, columns);
  const x1 = within(left, columns);
  const x2 = within(left + 1, columns);
  const x3 = within(left + 2, columns);
  let sum = 0;
  for (let k = 0; k < 4; k++) {
    const row = within(top - 1 + k, rows) * columns;
    const between = cubic(photo[row + x0], photo[row + x1], photo[row + x2], photo[row + x3], u);
    sum += between * cubicWeight(k, v);
  }
  return Math.min(1, Math.max(0, sum));
}

const within = (at: number, length: number): number => Math.min(length - 1, Math.max(0, at));

/** E. Catmull, R. Rom, "A class of local interpolating splines", in Computer Aided Geometric Design (1974), 317–326. */
function cubic(a: number, b: number, c: number, d: number, t: number): number {
  return b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
}

/** The weight of the k-th value in `cubic`. */
function cubicWeight(k: number, t: number): number {
  if (k === 0) return 0.5 * t * (-1 + t * (2 - t));
  if (k === 1) return 1 + 0.5 * t * t * (3 * t - 5);
  if (k === 2) return 0.5 * t * (1 + t * (4 - 3 * t));
  return 0.5 * t * t * (t - 1);
}
