import { columnsOf, denseData, type Plane, rowsOf } from "../core/plane.js";
import type { Painter } from "./appearance.js";

/** An 8-bit RGB picture, row-major. */
export interface RgbPicture {
  readonly columns: number;
  readonly rows: number;
  readonly rgb: Uint8Array;
}

/** What a preview shows. */
export interface PreviewParts {
  /** Predicted luminance factors scaled for the screen, in true proportion. */
  readonly piece: Plane<"luminance-factor">;
  /** Predicted luminance factors of the burn pixels themselves. */
  readonly predicted: Plane<"luminance-factor">;
  /** 1 = burn, same shape as `predicted`. */
  readonly bits: Uint8Array;
  readonly paint: Painter;
  /** Luminance factors painted for a pixel that burns and one that does not. */
  readonly marked: number;
  readonly bare: number;
}

const MARGIN_PX = 20;
const STRIP_ROWS = 220;
const PAGE = 0xf3;
const SHOWN_PX_PER_MM = 8;
const LONGEST_SIDE_PX = 1200;
const LEAST_LONGER_SIDE_PX = 640;
/** The strip of dots keeps this width even below a narrow piece. */
const LEAST_INNER_COLUMNS = 640;

/**
 * Size in pixels at which a piece is shown, in true proportions: 8 pixels per mm, about twice life size on a screen, where dots
 * melt into tones as they do in the hand; small pieces larger, large ones smaller.
 */
export function previewSize(widthMm: number, heightMm: number): { columns: number; rows: number } {
  const longerMm = Math.max(widthMm, heightMm);
  const longerPx = Math.min(LONGEST_SIDE_PX, Math.max(LEAST_LONGER_SIDE_PX, SHOWN_PX_PER_MM * longerMm));
  const pxPerMm = longerPx / longerMm;
  return {
    columns: Math.max(1, Math.round(widthMm * pxPerMm)),
    rows: Math.max(1, Math.round(heightMm * pxPerMm)),
  };
}

/**
 * The piece as it should look, and below it one crop twice at one screen pixel for each burn pixel (a whole number of them on a
 * small piece): the dots that will burn, and what they become. A dashed frame on the piece shows where the crop was taken, unless it is the whole piece.
 */
export function composePreview(parts: PreviewParts): RgbPicture {
  const pieceColumns = columnsOf(parts.piece);
  const pieceRows = rowsOf(parts.piece);
  const burnColumns = columnsOf(parts.predicted);
  const burnRows = rowsOf(parts.predicted);
  const innerColumns = Math.max(pieceColumns, LEAST_INNER_COLUMNS);
  const roomColumns = Math.floor((innerColumns - MARGIN_PX) / 2);
  const zoom = Math.max(
    1,
    Math.min(Math.floor(roomColumns / burnColumns), Math.floor(STRIP_ROWS / burnRows)),
  );
  const cropColumns = Math.min(burnColumns, roomColumns);
  const cropRows = Math.min(burnRows, STRIP_ROWS);
  const panelColumns = cropColumns * zoom;
  const panelRows = cropRows * zoom;
  const columns = innerColumns + 2 * MARGIN_PX;
  const rows = pieceRows + panelRows + 3 * MARGIN_PX;
  const rgb = new Uint8Array(3 * columns * rows).fill(PAGE);
  const pieceLeft = MARGIN_PX + ((innerColumns - pieceColumns) >> 1);

  const draw = (
    left: number,
    top: number,
    width: number,
    height: number,
    valueAt: (x: number, y: number) => number,
  ) => {
    for (let y = 0; y < height; y++) {
      for (let x = 0, at = 3 * ((top + y) * columns + left); x < width; x++, at += 3)
        parts.paint(valueAt(x, y), rgb, at);
    }
  };
  const piece = denseData(parts.piece);
  draw(pieceLeft, MARGIN_PX, pieceColumns, pieceRows, (x, y) => piece[y * pieceColumns + x]);

  const cropLeft = (burnColumns - cropColumns) >> 1;
  const cropTop = (burnRows - cropRows) >> 1;
  const cropAt = (x: number, y: number): number =>
    (cropTop + Math.floor(y / zoom)) * burnColumns + cropLeft + Math.floor(x / zoom);
  const stripTop = pieceRows + 2 * MARGIN_PX;
  const predicted = denseData(parts.predicted);
  const stripLeft = MARGIN_PX + ((innerColumns - 2 * panelColumns - MARGIN_PX) >> 1);
  const dotAt = (x: number, y: number): number => (parts.bits[cropAt(x, y)] ? parts.marked : parts.bare);
  draw(stripLeft, stripTop, panelColumns, panelRows, dotAt);
  draw(
    stripLeft + panelColumns + MARGIN_PX,
    stripTop,
    panelColumns,
    panelRows,
    (x, y) => predicted[cropAt(x, y)],
  );

  if (cropColumns === burnColumns && cropRows === burnRows) return { columns, rows, rgb };
  dashedFrame(rgb, columns, {
    left: pieceLeft + Math.round((cropLeft * pieceColumns) / burnColumns),
    top: MARGIN_PX + Math.round((cropTop * pieceRows) / burnRows),
    right: pieceLeft + Math.round(((cropLeft + cropColumns) * pieceColumns) / burnColumns) - 1,
    bottom: MARGIN_PX + Math.round(((cropTop + cropRows) * pieceRows) / burnRows) - 1,
  });
  return { columns, rows, rgb };
}

interface Rectangle {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Black and white dashes, so that it shows on any tone. */
function dashedFrame(rgb: Uint8Array, columns: number, { left, top, right, bottom }: Rectangle): void {
  const dot = (x: number, y: number, along: number): void => {
    rgb.fill(along & 4 ? 0xff : 0x10, 3 * (y * columns + x), 3 * (y * columns + x) + 3);
  };
  for (let x = left; x <= right; x++) {
    dot(x, top, x - left);
    dot(x, bottom, x - left);
  }
  for (let y = top; y <= bottom; y++) {
    dot(left, y, y - top);
    dot(right, y, y - top);
  }
}
