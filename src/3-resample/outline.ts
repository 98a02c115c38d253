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

function rectangleRow(
  { borderVerticalMm, borderHorizontalMm, gapMm, vignetteMm, closed }: Outline,
  { columns, rows }: PixelRectangle,
  pitch: Pitch,
): FillRow {
  const nearMm = (i: number, count: number, pitchMm: number) => Math.min(i + 0.5, count - i - 0.5) * pitchMm;
  /** Share of the vignette that is still missing at this distance from a side. */
  const missing = (openMm: number) => Math.max(0, vignetteMm - openMm) / vignetteMm;
  return (out, y) => {
    const acrossMm = nearMm(y, rows, pitch.acrossMm);
    const openAcrossMm = acrossMm - borderHorizontalMm - gapMm;
    const missingAcross = missing(openAcrossMm);
    for (let x = 0; x < columns; x++) {
      const alongMm = closed ? Number.POSITIVE_INFINITY : nearMm(x, columns, pitch.alongMm);
      const openAlongMm = alongMm - borderVerticalMm - gapMm;
      if (alongMm < borderVerticalMm || acrossMm < borderHorizontalMm) out[x] = BORDER;
      else if (openAlongMm < 0 || openAcrossMm < 0) out[x] = 0;
      else if (vignetteMm === 0) out[x] = 1;
      else out[x] = Math.max(0, 1 - Math.sqrt(missing(openAlongMm) ** 2 + missingAcross ** 2));
    }
  };
}

/** The border of an oval has the mean width of vertical and horizontal parts everywhere. */
function ovalRow(outline: Outline, { columns, rows }: PixelRectangle, pitch: Pitch): FillRow {
  const { borderVerticalMm, borderHorizontalMm, gapMm, vignetteMm } = outline;
  const halfWidthMm = (columns * pitch.alongMm) / 2;
  const halfHeightMm = (rows * pitch.acrossMm) / 2;
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
  return (out, y) => {
    const yMm = (y + 0.5 - rows / 2) * pitch.acrossMm;
    for (let x = 0; x < Math.ceil(columns / 2); x++) {
      const xMm = (x + 0.5 - columns / 2) * pitch.alongMm;
      const radius = Math.sqrt((xMm / halfWidthMm) ** 2 + (yMm / halfHeightMm) ** 2);
      const share =
        radius >= 1 ? 0 : radius <= whole ? 1 : at(depthInOval(xMm, yMm, halfWidthMm, halfHeightMm));
      out[x] = share;
      out[columns - 1 - x] = share;
    }
  };
}
