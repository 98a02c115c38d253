import type { BoardLayout, BoardPiece, Boards, BurnSetting, LeftOut, Place } from "./board-piece.js";
import type { Jig, Pocket } from "./jig.js";
import { tooLarge } from "./left-out.js";
import { pixelsCovering } from "./whole-pixels.js";

interface Filling {
  readonly free: Pocket[];
  readonly places: Place[];
}

/**
 * Lay each copy of each piece into a pocket of its own, in the given order of both. The middle of the piece lies in the middle of the
 * pocket, rounded to whole pixels. When no pocket is left for a piece, the next board begins. A piece for which every pocket is too
 * small is left out. Sizes count to half a pitch: a piece of 50 mm may measure a little more, because it has whole pixels too.
 */
export function fillPockets(pieces: readonly BoardPiece[], setting: BurnSetting, jig: Jig): Boards {
  const { alongMm, acrossMm } = setting.pitch;
  const fillings: Filling[] = [];
  const leftOut: LeftOut[] = [];
  const lay = (piece: BoardPiece, copy: number): void => {
    if (fillings.some((filling) => layInto(filling, piece, copy))) return;
    const next = { free: [...jig.pockets], places: [] };
    fillings.push(next);
    layInto(next, piece, copy);
  };
  for (const piece of pieces) {
    if (!jig.pockets.some((pocket) => fits(piece, pocket))) {
      leftOut.push(tooLarge(piece, largest(jig.pockets)));
      continue;
    }
    for (let copy = 1; copy <= piece.copies; copy++) lay(piece, copy);
  }
  // Rounded up, so that a piece at the edge lies where its pocket is.
  const columns = pixelsCovering(jig.widthMm, alongMm);
  const rows = pixelsCovering(jig.heightMm, acrossMm);
  const boards = fillings.map(
    ({ places }): BoardLayout => ({ setting, columns, rows, places: inOrderOf(jig, places) }),
  );
  return { boards, leftOut };
}

/** Lay a piece into the first free pocket that takes it. False if there is none. */
function layInto({ free, places }: Filling, piece: BoardPiece, copy: number): boolean {
  const at = free.findIndex((pocket) => {
    if (!fits(piece, pocket)) return false;
    const place = inMiddle(pocket, piece, copy);
    if (places.some((other) => overlap(place, other))) return false;
    places.push(place);
    return true;
  });
  if (at >= 0) free.splice(at, 1);
  return at >= 0;
}

function fits({ columns, rows, setting }: BoardPiece, { widthMm, heightMm }: Pocket): boolean {
  const { alongMm, acrossMm } = setting.pitch;
  return columns - widthMm / alongMm <= 0.5 && rows - heightMm / acrossMm <= 0.5;
}

function inMiddle(pocket: Pocket, piece: BoardPiece, copy: number): Place {
  const { alongMm, acrossMm } = piece.setting.pitch;
  const left = (pocket.leftMm + pocket.widthMm / 2) / alongMm - piece.columns / 2;
  const top = (pocket.topMm + pocket.heightMm / 2) / acrossMm - piece.rows / 2;
  const whole = { left: Math.max(0, Math.round(left)), top: Math.max(0, Math.round(top)) };
  const offMiddleMm = { along: (whole.left - left) * alongMm, across: (whole.top - top) * acrossMm };
  return { piece, copy, ...whole, pocket: { name: pocket.name, offMiddleMm } };
}

/** Two pieces that are half a pixel larger than pockets without a wall between them. */
const overlap = (a: Place, b: Place): boolean =>
  a.left < b.left + b.piece.columns &&
  b.left < a.left + a.piece.columns &&
  a.top < b.top + b.piece.rows &&
  b.top < a.top + a.piece.rows;

/** In the order of the pockets. */
function inOrderOf({ pockets }: Jig, places: readonly Place[]): Place[] {
  const order = new Map(pockets.map(({ name }, i) => [name, i]));
  const placeIn = ({ pocket }: Place): number => order.get(pocket?.name ?? "") ?? 0;
  return [...places].sort((a, b) => placeIn(a) - placeIn(b));
}

const largest = (pockets: readonly Pocket[]): Pocket =>
  pockets.reduce((best, each) => (each.widthMm * each.heightMm > best.widthMm * best.heightMm ? each : best));
