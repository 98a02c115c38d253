import { refusal } from "../core/refusals/refusals.js";
import { MAX_PIXELS } from "../options/options.js";
import type { BoardLayout, BoardPiece, LeftOut } from "./board-piece.js";

/** A piece that is larger than the free part of a board, or than the largest pocket. */
export function tooLarge(
  piece: BoardPiece,
  room: { readonly widthMm: number; readonly heightMm: number },
): LeftOut {
  const { name, columns, rows, setting } = piece;
  const { alongMm, acrossMm } = setting.pitch;
  const size = { widthMm: columns * alongMm, heightMm: rows * acrossMm };
  return { piece, reason: refusal("board-too-small", { name, ...size, room }) };
}

/** A piece on a board with more pixels than a bitmap may have. */
export function onTooManyPixels(piece: BoardPiece, { columns, rows }: BoardLayout): LeftOut {
  const { name } = piece;
  return {
    piece,
    reason: refusal("board-too-many-pixels", { name, columns, rows, maxPixels: MAX_PIXELS }),
  };
}
