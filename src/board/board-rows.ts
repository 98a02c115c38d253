import { bytesPerRow, type PackedBitmap } from "../core/packed-bits.js";
import type { BoardLayout, BoardPiece, Place } from "./board-piece.js";

/** The rows of a board, top to bottom. The bitmap of the whole board is never in memory. */
export interface BoardRows {
  readonly stride: number;
  /** Write row y over `row`. Called once per row, in rising order. */
  readonly fill: (y: number, row: Uint8Array) => void;
}

/**
 * Rows of a board, made of the rows of its pieces. Inside a piece's rectangle they are the piece's own pixels; everything else stays
 * bare.
 *
 * @param bitmapOf the bitmap of a piece
 */
export function boardRows(
  { columns, places, setting: { levels } }: BoardLayout,
  bitmapOf: (piece: BoardPiece) => PackedBitmap,
): BoardRows {
  const waiting = [...places].sort((a, b) => a.top - b.top);
  let next = 0;
  let current: Place[] = [];
  return {
    stride: bytesPerRow(columns, levels),
    fill(y, row) {
      row.fill(0);
      while (next < waiting.length && waiting[next].top <= y) current.push(waiting[next++]);
      current = current.filter(({ top, piece }) => y < top + piece.rows);
      for (const { piece, left, top } of current) {
        const { bytes, stride } = bitmapOf(piece);
        const own = bytes.subarray((y - top) * stride, (y - top + 1) * stride);
        if (levels > 2) row.set(own, left);
        else addBits(own, row, left);
      }
    },
  };
}

/** Put packed bits into a packed row, from the bit `left` on. The bits past a piece's last column are 0, and add nothing. */
function addBits(own: Uint8Array, row: Uint8Array, left: number): void {
  const shift = left & 7;
  let at = left >> 3;
  if (shift === 0) {
    for (let i = 0; i < own.length; i++, at++) row[at] |= own[i];
    return;
  }
  for (let i = 0; i < own.length; i++, at++) {
    row[at] |= own[i] >> shift;
    // Past the end of the board there is room for zeros only.
    if (at + 1 < row.length) row[at + 1] |= own[i] << (8 - shift);
  }
}
