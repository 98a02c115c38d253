import { naturalOrder } from "../core/natural-order.js";
import type { BoardLayout, BoardPiece, Boards, BurnSetting, LeftOut, Place } from "./board-piece.js";
import { tooLarge } from "./left-out.js";
import { pixelsCovering } from "./whole-pixels.js";

/** A flat board. Lengths in mm. */
export interface FlatBoard {
  readonly widthMm: number;
  readonly heightMm: number;
  /** At least this much stays bare between two pieces. */
  readonly gapMm: number;
  /** At least this much stays bare along the edges. */
  readonly marginMm: number;
}

interface Shelf {
  readonly top: number;
  readonly rows: number;
  /** First free column. */
  left: number;
}

interface Filling {
  readonly shelves: Shelf[];
  readonly places: Place[];
}

/**
 * Lay pieces on shelves: the tallest first, each on the first shelf with room for it, on the first board with room. A shelf is as high
 * as its first piece. Pieces of equal height go by width, then by name, so that the same pieces always lie the same way. No piece is
 * turned: its lines would then run across the machine's.
 *
 * All lengths are whole pixels. Gaps are rounded up, so that no two pieces come closer than was asked. The board and its margins count
 * to half a pitch: a piece of 50 mm may measure a little more, because it has whole pixels too, and fits on 50 mm.
 */
export function packShelves(pieces: readonly BoardPiece[], setting: BurnSetting, board: FlatBoard): Boards {
  const { alongMm, acrossMm } = setting.pitch;
  const whole = {
    columns: Math.round(board.widthMm / alongMm),
    rows: Math.round(board.heightMm / acrossMm),
  };
  const margin = {
    left: Math.round(board.marginMm / alongMm),
    top: Math.round(board.marginMm / acrossMm),
  };
  const gap = { along: pixelsCovering(board.gapMm, alongMm), across: pixelsCovering(board.gapMm, acrossMm) };
  const right = margin.left + Math.round((board.widthMm - 2 * board.marginMm) / alongMm);
  const bottom = margin.top + Math.round((board.heightMm - 2 * board.marginMm) / acrossMm);
  const fillings: Filling[] = [];
  const leftOut: LeftOut[] = [];

  const lay = (piece: BoardPiece, copy: number): void => {
    for (const { shelves, places } of fillings) {
      const shelf =
        shelves.find(({ left, rows }) => left + piece.columns <= right && piece.rows <= rows) ??
        newShelf(shelves, piece);
      if (!shelf) continue;
      places.push({ piece, copy, left: shelf.left, top: shelf.top });
      shelf.left += piece.columns + gap.along;
      return;
    }
    fillings.push({ shelves: [], places: [] });
    lay(piece, copy);
  };
  const newShelf = (shelves: Shelf[], { rows }: BoardPiece): Shelf | undefined => {
    const last = shelves.at(-1);
    const top = last ? last.top + last.rows + gap.across : margin.top;
    if (top + rows > bottom) return undefined;
    const shelf = { top, rows, left: margin.left };
    shelves.push(shelf);
    return shelf;
  };

  for (const piece of inOrder(pieces)) {
    if (margin.left + piece.columns > right || margin.top + piece.rows > bottom) {
      const room = {
        widthMm: Math.max(0, right - margin.left) * alongMm,
        heightMm: Math.max(0, bottom - margin.top) * acrossMm,
      };
      leftOut.push(tooLarge(piece, room));
      continue;
    }
    for (let copy = 1; copy <= piece.copies; copy++) lay(piece, copy);
  }
  const boards = fillings.map(
    ({ places }): BoardLayout => ({ setting, ...whole, places: places.sort(shelfByShelf) }),
  );
  return { boards, leftOut };
}

/** The tallest piece first, then the widest, then by name. */
const inOrder = (pieces: readonly BoardPiece[]): BoardPiece[] =>
  [...pieces].sort((a, b) => b.rows - a.rows || b.columns - a.columns || naturalOrder(a.name, b.name));

const shelfByShelf = (a: Place, b: Place): number => a.top - b.top || a.left - b.left;
