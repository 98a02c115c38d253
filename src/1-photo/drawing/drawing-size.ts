import { MAX_PHOTO_PIXELS } from "../photo.js";

/** Pixels per inch of a drawing, as in CSS: 1 in = 96 px. */
export const DRAWING_DENSITY = 96;

/** Pixels per user unit (CSS px) at that density: the decoder uses 72 units per inch. */
const PIXELS_PER_UNIT = DRAWING_DENSITY / 72;

/** Default number of columns of a rendered drawing. */
const DEFAULT_COLUMNS = 1000;

/** Longest side that the renderer accepts, in pixels. */
const LONGEST_SIDE = 32_767;

/** Size in user units of a drawing that is `pixels` wide or high at the drawing density. */
export const drawingUnits = (pixels: number): number => Math.round(pixels / PIXELS_PER_UNIT);

/**
 * Columns of the rendered drawing: as many as it declares, or more for the wanted columns and rows, within the limits on pixels.
 * The resampler does the remaining enlargement.
 *
 * @param width, height at the drawing density, rounded to whole pixels
 */
export function drawingColumns(
  width: number,
  height: number,
  minColumns = DEFAULT_COLUMNS,
  minRows = 1,
): number {
  // Rounding makes the aspect ratio inexact: there may be more rows than wanted, never fewer.
  const columnsForRows = Math.ceil((minRows * (width + 0.5)) / (height - 0.5));
  const wanted = Math.max(drawingUnits(width), minColumns, columnsForRows);
  const longerSide = (Math.max(width, height) + 0.5) / width;
  const pixelsPerColumn = (height + 0.5) / (width - 0.5);
  const possible = Math.min(LONGEST_SIDE / longerSide, Math.sqrt(MAX_PHOTO_PIXELS / pixelsPerColumn));
  return Math.max(1, Math.min(Math.ceil(wanted), Math.floor(possible)));
}
