import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { RgbPicture } from "./canvas.js";
import type { PictureSize } from "./preview-size.js";

/*
 * A preview shows a part of its piece enlarged, and a dashed frame on the piece shows where that is.
 */

export const MARGIN_PX = 24;
const STRIP_PX = 240;
/** Minimum width of the strip, even below a narrow piece, so that its captions fit. */
export const MIN_INNER_PX = 640;
/** Minimum number of screen pixels per burn pixel in the strip, so that single dots are visible. */
const DOT_PX = 3;

const BLACK = 0x00;
const WHITE = 0xff;

/** Black and white dashes, visible on any tone. */
export const dashes = (along: number): number => (along & 4 ? WHITE : BLACK);

/** The size of a piece: of its bitmap, and in mm. */
export interface BurntSize {
  readonly burnColumns: number;
  readonly burnRows: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Width of each of the two pictures of the enlarged part. */
export const roomPx = (pieceColumns: number): number =>
  Math.floor((Math.max(pieceColumns, MIN_INNER_PX) - MARGIN_PX) / 2);

/** How much of the bitmap is enlarged: in burn pixels, in pixels of the screen, and pixels of the screen for each burn pixel. */
export function enlargedSize({ burnColumns, burnRows, widthMm, heightMm }: BurntSize, room: number) {
  const pitchAlong = widthMm / burnColumns;
  const pitchAcross = heightMm / burnRows;
  const finer = Math.min(pitchAlong, pitchAcross);
  // A small piece is shown whole, as large as possible.
  const fitting = Math.min((room / widthMm) * finer, (STRIP_PX / heightMm) * finer);
  const dotPx = Math.max(DOT_PX, Math.floor(fitting));
  const stepX = Math.round((dotPx * pitchAlong) / finer);
  const stepY = Math.round((dotPx * pitchAcross) / finer);
  // If it fills its room, the last dots may be cut.
  const shown = { columns: Math.min(burnColumns * stepX, room), rows: Math.min(burnRows * stepY, STRIP_PX) };
  const columns = Math.ceil(shown.columns / stepX);
  const rows = Math.ceil(shown.rows / stepY);
  return { columns, rows, shown, stepX, stepY, pxPerMm: stepX / pitchAlong };
}

/** A rectangle of burn pixels in pixels of the screen. */
export const scaled = (
  { left, top, columns, rows }: PixelRectangle,
  along: number,
  across: number,
): PixelRectangle => ({
  left: Math.round(left * along),
  top: Math.round(top * across),
  columns: Math.max(1, Math.round(columns * along)),
  rows: Math.max(1, Math.round(rows * across)),
});

/**
 * Paint over the dashed frame with the pixels beside it. Nothing changes where there is none, because the part is the whole piece.
 *
 * @param piece its place on the preview
 */
export function eraseDashes(preview: RgbPicture, piece: PixelRectangle, size: BurntSize): void {
  const part = enlargedSize(size, roomPx(piece.columns));
  const inside = { left: 0, top: 0, columns: part.columns, rows: part.rows };
  const { columns, rows } = scaled(inside, piece.columns / size.burnColumns, piece.rows / size.burnRows);
  const frame = findFrame(preview, piece, { columns, rows });
  if (!frame) return;
  const { left, top, right, bottom } = frame;
  const copy = (toX: number, toY: number, fromX: number, fromY: number): void => {
    const from = 3 * (fromY * preview.columns + fromX);
    preview.rgb.copyWithin(3 * (toY * preview.columns + toX), from, from + 3);
  };
  // From outside the frame, and from inside at the edges of the piece.
  const [besideLeft, besideRight] = [
    left > piece.left ? -1 : 1,
    right < piece.left + piece.columns - 1 ? 1 : -1,
  ];
  const [above, below] = [top > piece.top ? -1 : 1, bottom < piece.top + piece.rows - 1 ? 1 : -1];
  for (let y = top + 1; y < bottom; y++) {
    copy(left, y, left + besideLeft, y);
    copy(right, y, right + besideRight, y);
  }
  for (let x = left; x <= right; x++) {
    copy(x, top, x, top + above);
    copy(x, bottom, x, bottom + below);
  }
}

interface Corners {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The frame round a part of that size. It may lie beside the piece by a pixel, and by one more where sizes were rounded. */
function findFrame(
  preview: RgbPicture,
  piece: PixelRectangle,
  { columns, rows }: PictureSize,
): Corners | undefined {
  for (let top = piece.top - 1; top + rows <= piece.top + piece.rows + 1; top++) {
    for (let left = piece.left - 1; left + columns <= piece.left + piece.columns + 1; left++) {
      const corners = { left, top, right: left + columns + 1, bottom: top + rows + 1 };
      if (isDashed(preview, corners)) return corners;
    }
  }
  return undefined;
}

function isDashed({ rgb, columns }: RgbPicture, { left, top, right, bottom }: Corners): boolean {
  const has = (x: number, y: number, along: number): boolean => {
    const at = 3 * (y * columns + x);
    const grey = dashes(along);
    return rgb[at] === grey && rgb[at + 1] === grey && rgb[at + 2] === grey;
  };
  // The corners belong to the left and the right side.
  for (let x = left + 1; x < right; x++) {
    if (!has(x, top, x - left) || !has(x, bottom, x - left)) return false;
  }
  for (let y = top; y <= bottom; y++) {
    if (!has(left, y, y - top) || !has(right, y, y - top)) return false;
  }
  return true;
}
