import { BORDER, type EdgeRows } from "../core/picture-edge.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import type { Pitch } from "../core/plane.js";
import { depthInOval } from "./oval.js";

/** The edge of a picture. From the edge of the placement inwards: border, gap, vignette, picture. */
export interface Outline {
  /** True for the largest oval in the placement, false for the whole rectangle. */
  readonly oval: boolean;
  /** Burned width of the vertical and horizontal parts of the border; 0 for none. */
  readonly borderVerticalMm: number;
  readonly borderHorizontalMm: number;
  readonly gapMm: number;
  /** 0 for a hard edge. */
  readonly vignetteMm: number;
  /** True if the picture goes all the way round: a rectangle without left and right sides. */
  readonly closed: boolean;
}

/**
 * An outline on the engraving grid. Pixels count by their centres. A border is never thinner than a pixel, so it has no breaks.
 * The vignette of a rectangle falls off linearly from every side and rounds the corners.
 *
 * @param placement of the picture in the bitmap
 * @param columns of the whole bitmap
 * @returns rows [columns] of the share 0..1 of the picture to keep, or `BORDER`; the array is reused for the next row
 */
export function outlineRows(
  outline: Outline,
  placement: PixelRectangle,
  columns: number,
  pitch: Pitch,
): EdgeRows {
  const { left, top } = placement;
  const out = new Float32Array(columns);
  const inside = out.subarray(left, left + placement.columns);
  const fill = outline.oval ? ovalRow(outline, placement, pitch) : rectangleRow(outline, placement, pitch);
  return (y) => {
    out.fill(0);
    if (y >= top && y < top + placement.rows) fill(inside, y - top);
    return out;
  };
}

type FillRow = (out: Float32Array, y: number) => void;

function rectangleRow(outline: Outline, { columns, rows }: PixelRectangle, pitch: Pitch): FillRow {
  const nearMm = (i: number, count: number, pitchMm: number) => Math.min(i + 0.5, count - i - 0.5) * pitchMm;
  const share = rectangleShare(outline);
  return (out, y) => {
    const acrossMm = nearMm(y, rows, pitch.acrossMm);
    for (let x = 0; x < columns; x++) {
      out[x] = share(outline.closed ? Number.POSITIVE_INFINITY : nearMm(x, columns, pitch.alongMm), acrossMm);
    }
  };
}

/** The share of the picture to keep, or `BORDER`, by the distances from the nearest vertical and the nearest horizontal side. */
export function rectangleShare({
  borderVerticalMm,
  borderHorizontalMm,
  gapMm,
  vignetteMm,
}: Outline): (alongMm: number, acrossMm: number) => number {
  /** Share of the vignette that is still missing at this distance from a side. */
  const missing = (openMm: number) => Math.max(0, vignetteMm - openMm) / vignetteMm;
  return (alongMm, acrossMm) => {
    if (alongMm < borderVerticalMm || acrossMm < borderHorizontalMm) return BORDER;
    const openAlongMm = alongMm - borderVerticalMm - gapMm;
    const openAcrossMm = acrossMm - borderHorizontalMm - gapMm;
    if (openAlongMm < 0 || openAcrossMm < 0) return 0;
    if (vignetteMm === 0) return 1;
    return Math.max(0, 1 - Math.sqrt(missing(openAlongMm) ** 2 + missing(openAcrossMm) ** 2));
  };
}

function ovalRow(outline: Outline, { columns, rows }: PixelRectangle, pitch: Pitch): FillRow {
  const share = ovalShare(outline, columns * pitch.alongMm, rows * pitch.acrossMm, pitch);
  return (out, y) => {
    const yMm = (y + 0.5 - rows / 2) * pitch.acrossMm;
    for (let x = 0; x < Math.ceil(columns / 2); x++) {
      out[x] = share((x + 0.5 - columns / 2) * pitch.alongMm, yMm);
      out[columns - 1 - x] = out[x];
    }
  };
}

/**
 * The share of the picture to keep, or `BORDER`, by the place from the middle of an oval. Its border has the mean width of vertical
 * and horizontal parts everywhere.
 */
export function ovalShare(
  { borderVerticalMm, borderHorizontalMm, gapMm, vignetteMm }: Outline,
  widthMm: number,
  heightMm: number,
  pitch: Pitch,
): (xMm: number, yMm: number) => number {
  const [halfWidthMm, halfHeightMm] = [widthMm / 2, heightMm / 2];
  const wantedMm = (borderVerticalMm + borderHorizontalMm) / 2;
  const borderMm = wantedMm > 0 ? Math.max(wantedMm, pitch.alongMm, pitch.acrossMm) : 0;
  const opensMm = borderMm + gapMm;
  // Inside an oval scaled by this factor the whole picture is kept, so no depth has to be computed.
  const whole = 1 - (opensMm + vignetteMm) / Math.min(halfWidthMm, halfHeightMm);
  const at = (depthMm: number): number => {
    if (depthMm < 0) return 0;
    if (depthMm < borderMm) return BORDER;
    if (depthMm < opensMm) return 0;
    return vignetteMm === 0 ? 1 : Math.min(1, (depthMm - opensMm) / vignetteMm);
  };
  return (xMm, yMm) => {
    const radius = Math.sqrt((xMm / halfWidthMm) ** 2 + (yMm / halfHeightMm) ** 2);
    if (radius >= 1) return 0;
    return radius <= whole ? 1 : at(depthInOval(xMm, yMm, halfWidthMm, halfHeightMm));
  };
}
