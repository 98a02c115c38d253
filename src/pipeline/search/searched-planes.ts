import { MOVES, type SearchModel, STAYS, SWAPS } from "../../4-search/search-model.js";
import { type PackedBitmap, packRow, unpackRow } from "../../core/packed-bits.js";
import { BORDER, type EdgeRows } from "../../core/picture-edge.js";
import type { CodeRows } from "../../core/plane-rows.js";
import type { BurnModel } from "../burn-model.js";
import type { Job } from "../job.js";
import { loneMarks } from "./lone-marks.js";
import type { SearchPlan } from "./search-plan.js";
import type { SearchedPlanes } from "./tile-work.js";

/** A piece on its grid, and its start. */
export interface SearchStart {
  /** Its border and what is outside its outline stay as they are. Absent if the picture is the whole of a rectangle. */
  readonly edge?: EdgeRows | undefined;
  /** [rows] Dose of each row of a cone, as multiples of the nominal dose. */
  readonly rowDoses?: Float64Array | undefined;
  /** The photo's luminance on the grid. */
  readonly codes: CodeRows;
  /** Changed in place. */
  readonly bitmap: PackedBitmap;
  /** [rows × columns] Power levels to begin with, where pixels may change. Default: those of the bitmap. */
  readonly from?: Uint8Array | undefined;
}

/** A plane that all threads see. */
const shared = (bytes: number): SharedArrayBuffer => new SharedArrayBuffer(bytes);

/** @param reach of a change */
export function searchedPlanes(
  { model, options }: Job,
  { edge, codes, bitmap, rowDoses, from }: SearchStart,
  reach: SearchPlan["reach"],
): SearchedPlanes {
  const { columns, rows } = bitmap;
  const pixels = columns * rows;
  const planes = {
    ...{ columns, rows, closed: options.ringColumns > 0, rowDoses },
    codes: new Uint8Array(shared(pixels)),
    after: new Uint8Array(shared(pixels)),
    wanted: new Uint16Array(shared(2 * pixels)),
    moves: new Uint8Array(shared(pixels)).fill(STAYS),
  };
  for (let y = 0; y < rows; y++) {
    const at = y * columns;
    const wanted = codes(y);
    const outline = edge?.(y);
    planes.wanted.set(wanted, at);
    unpackLevels(bitmap, y, planes.codes.subarray(at, at + columns));
    for (let x = 0; x < columns; x++) {
      const isFixed = outline !== undefined && (outline[x] === BORDER || outline[x] === 0);
      if (isFixed || wanted[x] === model.bareCode) continue;
      planes.moves[at + x] = MOVES;
      if (from) planes.codes[at + x] = from[at + x];
    }
  }
  holdEdges(planes, reach);
  return planes;
}

/** Along the edges of a piece marks lack neighbours, and nothing there tells better from worse. */
function holdEdges(
  { moves, columns, rows, closed }: SearchedPlanes,
  { along, across }: SearchPlan["reach"],
): void {
  moves.fill(STAYS, 0, Math.min(across, rows) * columns);
  moves.fill(STAYS, Math.max(0, rows - across) * columns);
  if (closed) return;
  for (let row = 0; row < moves.length; row += columns) {
    moves.fill(STAYS, row, row + Math.min(along, columns));
    moves.fill(STAYS, row + Math.max(0, columns - along), row + columns);
  }
}

/** Near bare and solid, dots only change places (see `loneMarks`). What stays stays. */
export function allowMoves(
  { moves, wanted }: SearchedPlanes,
  { bare, solid, wantedByCode }: BurnModel,
  model: SearchModel,
): void {
  const { fromBare, fromSolid } = loneMarks(model);
  const moveOf = Uint8Array.from(wantedByCode, (tone) =>
    Math.abs(tone - bare) < fromBare || Math.abs(tone - solid) < fromSolid ? SWAPS : MOVES,
  );
  for (let at = 0; at < moves.length; at++) if (moves[at] !== STAYS) moves[at] = moveOf[wanted[at]];
}

function unpackLevels({ bytes, columns, stride, levels }: PackedBitmap, y: number, out: Uint8Array): void {
  if (levels > 2) out.set(bytes.subarray(y * stride, y * stride + columns));
  else unpackRow(bytes, y * stride, columns, out, 0);
}

export function writeBitmap(codes: Uint8Array, { bytes, columns, rows, stride, levels }: PackedBitmap): void {
  if (levels > 2) bytes.set(codes);
  else for (let y = 0; y < rows; y++) packRow(codes, y * columns, columns, bytes, y * stride);
}
