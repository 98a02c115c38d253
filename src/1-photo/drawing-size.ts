import { maximumPixels } from "./photo.js";

/** Pixels per inch at which a physical unit of a drawing has the size that CSS gives it: 1 in = 96 px. */
export const DRAWING_DENSITY = 96;

/** Pixels per user unit (CSS px) at that density: the decoder counts 72 to one. */
const PIXELS_PER_UNIT = DRAWING_DENSITY / 72;

/** Columns that a drawing is rendered with where nobody asks for more. */
const DEFAULT_COLUMNS = 1000;

/** Longest side that the renderer of drawings accepts, in pixels. */
const LONGEST_SIDE = 32_767;

/** Size in user units of a drawing that is `pixels` wide or high at the drawing density. */
export const drawingUnits = (pixels: number): number => Math.round(pixels / PIXELS_PER_UNIT);

/**
 * Columns to render a drawing with: as many as it declares, or more where the wanted columns and rows ask for them, as
 * far as the limits on pixels allow. The resampler enlarges the rest.
 *
 * @param width, height at the drawing density, rounded to whole pixels
 */
export function drawingColumns(
  width: number,
  height: number,
  minimumColumns = DEFAULT_COLUMNS,
  minimumRows = 1,
): number {
  // Rounding leaves the aspect ratio in doubt: rows may come out more than asked for, never fewer.
  const columnsForRows = Math.ceil((minimumRows * (width + 0.5)) / (height - 0.5));
  const wanted = Math.max(drawingUnits(width), minimumColumns, columnsForRows);
  const longerSide = (Math.max(width, height) + 0.5) / width;
  const pixelsPerColumn = (height + 0.5) / (width - 0.5);
  const possible = Math.min(LONGEST_SIDE / longerSide, Math.sqrt(maximumPixels / pixelsPerColumn));
  return Math.max(1, Math.min(Math.ceil(wanted), Math.floor(possible)));
}
