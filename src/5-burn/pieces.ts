import type { ExposurePlan } from "./exposure-plan.js";

/** A rectangle of pixels of the picture. */
export interface Rectangle {
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
}

/** A part of the picture that is judged by itself, within what has a bearing on it. */
export interface Piece {
  /** Pixels that count. */
  readonly core: Rectangle;
  /** The core and a halo that the eye blurs into it, as far as the picture goes. */
  readonly seen: Rectangle;
  /** Pixels whose bits leave dose in `seen`; from a multiple of 8 columns and an even row on. */
  readonly burned: Rectangle;
}

/** Pieces that stand for a picture. */
export interface Pieces {
  readonly pieces: readonly Piece[];
  /** Side of the square in which each piece is filtered by the eye, a power of two. */
  readonly sidePx: number;
  /** Part of the picture, without its margin, that they cover: 1 for all of it. */
  readonly share: number;
}

/** Border left out of the mean, where there is room for it: the spot finds no neighbours there. */
export const ERROR_MARGIN_PX = 16;

/** Real picture around each core, where there is some. */
export const HALO_PX = 64;

const LARGEST_SIDE_PX = 1024;

/** How far burned pixels reach. */
export interface Reach {
  readonly alongPx: number;
  readonly acrossPx: number;
}

export const reachOf = ({ evenLines, oddLines, across }: ExposurePlan): Reach => ({
  alongPx: Math.max(evenLines.reach, oddLines.reach),
  acrossPx: across.reach,
});

/** All of a picture, in as few pieces as will do. */
export function allPieces(columns: number, rows: number, reach: Reach): Pieces {
  const inner = withoutMargin(columns, rows);
  const sidePx = sideFor(Math.max(inner.columns, inner.rows));
  const corePx = sidePx - 2 * HALO_PX;
  const pieces: Piece[] = [];
  for (let y = 0; y < inner.rows; y += corePx) {
    for (let x = 0; x < inner.columns; x += corePx) {
      const core = {
        left: inner.left + x,
        top: inner.top + y,
        columns: Math.min(corePx, inner.columns - x),
        rows: Math.min(corePx, inner.rows - y),
      };
      pieces.push(pieceAround(core, columns, rows, reach));
    }
  }
  return { pieces, sidePx, share: 1 };
}

/**
 * About `count` pieces spread over a picture, or all of it where that is no more to filter: the picture is parted into equal
 * fields, and each holds one piece at the place that Halton's sequence gives (J. H. Halton, Numer. Math. 2, 84 (1960)). The
 * same for the same size, and no two overlap.
 *
 * @param count most pieces; at least 1
 * @param sidePx side of the square in which each piece is filtered, a power of two from 256
 */
export function samplePieces(
  columns: number,
  rows: number,
  reach: Reach,
  count: number,
  sidePx = LARGEST_SIDE_PX,
): Pieces {
  const whole = allPieces(columns, rows, reach);
  if (whole.pieces.length * whole.sidePx ** 2 <= count * sidePx ** 2) return whole;
  const inner = withoutMargin(columns, rows);
  const coreColumns = Math.min(sidePx - 2 * HALO_PX, inner.columns);
  const coreRows = Math.min(sidePx - 2 * HALO_PX, inner.rows);
  const room = { along: Math.floor(inner.columns / coreColumns), across: Math.floor(inner.rows / coreRows) };
  const wanted = Math.round(Math.sqrt((count * inner.columns) / inner.rows));
  const leastAlong = Math.ceil(count / room.across);
  const fieldsAlong = Math.max(1, Math.min(room.along, count, Math.max(wanted, leastAlong)));
  const fieldsAcross = Math.max(1, Math.min(room.across, Math.floor(count / fieldsAlong)));
  const pieces = Array.from({ length: fieldsAlong * fieldsAcross }, (_, n) => {
    const place = (field: number, fields: number, length: number, core: number, base: number): number =>
      Math.floor((field * length) / fields + radicalInverse(n + 1, base) * (length / fields - core));
    const core = {
      left: inner.left + place(n % fieldsAlong, fieldsAlong, inner.columns, coreColumns, 2),
      top: inner.top + place(Math.floor(n / fieldsAlong), fieldsAcross, inner.rows, coreRows, 3),
      columns: coreColumns,
      rows: coreRows,
    };
    return pieceAround(core, columns, rows, reach);
  });
  const share = (pieces.length * coreColumns * coreRows) / (inner.columns * inner.rows);
  return { pieces, sidePx, share };
}

function withoutMargin(columns: number, rows: number): Rectangle {
  const room = Math.floor((Math.min(columns, rows) - 1) / 2);
  const marginPx = Math.max(0, Math.min(ERROR_MARGIN_PX, room));
  return {
    left: marginPx,
    top: marginPx,
    columns: columns - 2 * marginPx,
    rows: rows - 2 * marginPx,
  };
}

/** Smallest power of two that holds a picture and its halo, up to the largest. */
function sideFor(lengthPx: number): number {
  const wanted = Math.max(4 * HALO_PX, lengthPx + 2 * HALO_PX);
  return Math.min(LARGEST_SIDE_PX, 2 ** Math.ceil(Math.log2(wanted)));
}

function pieceAround(core: Rectangle, columns: number, rows: number, { alongPx, acrossPx }: Reach): Piece {
  const seen = grown(core, HALO_PX, HALO_PX, columns, rows);
  const reached = grown(seen, alongPx, acrossPx, columns, rows);
  const left = reached.left - (reached.left % 8);
  const top = reached.top - (reached.top % 2);
  const right = Math.min(columns, Math.ceil((reached.left + reached.columns) / 8) * 8);
  const burned = { left, top, columns: right - left, rows: reached.top + reached.rows - top };
  return { core, seen, burned };
}

function grown(
  { left, top, columns, rows }: Rectangle,
  alongPx: number,
  acrossPx: number,
  allColumns: number,
  allRows: number,
): Rectangle {
  const from = { left: Math.max(0, left - alongPx), top: Math.max(0, top - acrossPx) };
  return {
    ...from,
    columns: Math.min(allColumns, left + columns + alongPx) - from.left,
    rows: Math.min(allRows, top + rows + acrossPx) - from.top,
  };
}

/** Digits of n mirrored at the point: 0..1. */
function radicalInverse(n: number, base: number): number {
  let inverse = 0;
  for (let digit = 1 / base; n > 0; n = Math.floor(n / base), digit /= base) inverse += (n % base) * digit;
  return inverse;
}
