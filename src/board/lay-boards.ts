import { naturalOrder } from "../core/natural-order.js";
import { refusal } from "../core/refusals/refusals.js";
import { linesPerInchFromPitchMm } from "../core/units.js";
import { MAX_PIXELS } from "../options/options.js";
import type { BoardPiece, Boards, BurnSetting } from "./board-piece.js";
import type { Jig } from "./jig.js";
import { onTooManyPixels } from "./left-out.js";
import { fillPockets } from "./pockets.js";
import { type FlatBoard, packShelves } from "./shelves.js";

/** Where pieces are laid: on a flat board, or in the pockets of a jig. */
export type Ground = { readonly board: FlatBoard } | { readonly jig: Jig };

/**
 * Lay pieces of one setting. All are left out if the boards would have too many pixels. Throws `OPTION_CONFLICT` for pieces that cannot
 * be burnt in one run.
 */
export function layPieces(pieces: readonly BoardPiece[], ground: Ground): Boards {
  if (pieces.length === 0) return { boards: [], leftOut: [] };
  const [{ setting }] = pieces;
  for (const other of pieces) checkSame(pieces[0], other);
  const laid =
    "jig" in ground ? fillPockets(pieces, setting, ground.jig) : packShelves(pieces, setting, ground.board);
  const vast = laid.boards.find(({ columns, rows }) => columns * rows > MAX_PIXELS);
  if (!vast) return laid;
  const told = new Set(laid.leftOut.map(({ piece }) => piece));
  const others = pieces.filter((piece) => !told.has(piece));
  return { boards: [], leftOut: [...laid.leftOut, ...others.map((piece) => onTooManyPixels(piece, vast))] };
}

/**
 * Lay pieces of any settings: one bitmap is burnt with one density, material and power, so each setting has boards of its own, in an
 * order that does not depend on the order of the pieces.
 */
export function layBySetting(pieces: readonly BoardPiece[], ground: Ground): Boards {
  const groups = new Map<string, BoardPiece[]>();
  for (const piece of [...pieces].sort((a, b) => naturalOrder(a.name, b.name))) {
    const group = groups.get(piece.setting.key);
    if (group) group.push(piece);
    else groups.set(piece.setting.key, [piece]);
  }
  const laid = [...groups.values()].sort(bySetting).map((group) => layPieces(group, ground));
  return {
    boards: laid.flatMap(({ boards }) => boards),
    leftOut: laid.flatMap(({ leftOut }) => leftOut),
  };
}

function checkSame(one: BoardPiece, other: BoardPiece): void {
  if (one.setting.key === other.setting.key) return;
  const [lines, otherLines] = [one, other].map(({ setting }) =>
    linesPerInchFromPitchMm(setting.pitch.acrossMm),
  );
  throw refusal("board-settings-differ", { one: one.name, other: other.name, lines, otherLines });
}

const bySetting = (
  [{ setting: a }]: readonly BoardPiece[],
  [{ setting: b }]: readonly BoardPiece[],
): number => naturalOrder(orderKey(a), orderKey(b));

/** Material first, then from coarse to fine, then everything else. */
const orderKey = ({ material, pitch, levels, key }: BurnSetting): string =>
  [material, linesPerInchFromPitchMm(pitch.acrossMm).toFixed(2), levels, key].join(" ");
