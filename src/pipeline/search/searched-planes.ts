import { MOVES, type SearchModel, STAYS, SWAPS } from "../../4-search/search-model.js";
import { mirroredPlace } from "../../5-burn/mirrored-rows.js";
import { type PackedBitmap, packRow, unpackRow } from "../../core/packed-bits.js";
import { BORDER, type EdgeRows } from "../../core/picture-edge.js";
import type { CodeRows } from "../../core/plane-rows.js";
import type { BurnModel } from "../burn-model.js";
import type { Job } from "../job.js";
import { loneMarks } from "./lone-marks.js";
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

/** Pixels by which a piece is extended to each side. */
export interface Margin {
  readonly along: number;
  readonly across: number;
}

/** A plane that all threads see. */
const shared = (bytes: number): SharedArrayBuffer => new SharedArrayBuffer(bytes);

/**
 * Along the edges of a piece marks lack neighbours, and nothing there would tell better from worse. So the piece is searched with a margin
 * of mirror images around it, which is cut off in the end. Of the margin itself, a strip as wide as a mark stays still.
 *
 * @param reach of a change
 */
export function searchedPlanes(
  { model, options }: Job,
  { edge, codes, bitmap, rowDoses, from }: SearchStart,
  reach: Margin,
): { readonly planes: SearchedPlanes; readonly margin: Margin } {
  const closed = options.ringColumns > 0;
  // An even number of rows: even and odd lines differ.
  const margin = { along: closed ? 0 : 2 * reach.along, across: 2 * reach.across };
  const columns = bitmap.columns + 2 * margin.along;
  const rows = bitmap.rows + 2 * margin.across;
  const pixels = columns * rows;
  const planes = {
    ...{ columns, rows, closed },
    codes: new Uint8Array(shared(pixels)),
    after: new Uint8Array(shared(pixels)),
    wanted: new Uint16Array(shared(2 * pixels)),
    moves: new Uint8Array(shared(pixels)).fill(STAYS),
    rowDoses:
      rowDoses &&
      Float64Array.from({ length: rows }, (_, y) => rowDoses[mirroredPlace(y - margin.across, bitmap.rows)]),
  };
  const levels = new Uint8Array(bitmap.columns);
  for (let y = 0; y < bitmap.rows; y++) {
    const at = (y + margin.across) * columns + margin.along;
    const wanted = codes(y);
    const outline = edge?.(y);
    planes.wanted.set(wanted, at);
    unpackLevels(bitmap, y, levels);
    planes.codes.set(levels, at);
    for (let x = 0; x < bitmap.columns; x++) {
      const isFixed = outline !== undefined && (outline[x] === BORDER || outline[x] === 0);
      if (isFixed || wanted[x] === model.bareCode) continue;
      planes.moves[at + x] = MOVES;
      if (from) planes.codes[at + x] = from[y * bitmap.columns + x];
    }
  }
  for (const plane of [planes.codes, planes.wanted, planes.moves]) extend(plane, planes, margin);
  holdEdges(planes, reach);
  return { planes, margin };
}

/** Fills the margin with mirror images. */
function extend(
  plane: Uint8Array | Uint16Array,
  { columns, rows }: SearchedPlanes,
  { along, across }: Margin,
): void {
  for (let y = across; y < rows - across; y++) {
    const row = y * columns;
    for (let x = 0; x < along; x++) {
      plane[row + x] = plane[row + along + mirroredPlace(x - along, columns - 2 * along)];
      const right = columns - along + x;
      plane[row + right] = plane[row + along + mirroredPlace(right - along, columns - 2 * along)];
    }
  }
  for (let y = 0; y < rows; y++) {
    const source = across + mirroredPlace(y - across, rows - 2 * across);
    if (source !== y) plane.copyWithin(y * columns, source * columns, (source + 1) * columns);
  }
}

function holdEdges({ moves, columns, rows, closed }: SearchedPlanes, { along, across }: Margin): void {
  moves.fill(STAYS, 0, across * columns);
  moves.fill(STAYS, (rows - across) * columns);
  if (closed) return;
  for (let row = 0; row < moves.length; row += columns) {
    moves.fill(STAYS, row, row + along);
    moves.fill(STAYS, row + columns - along, row + columns);
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

/** Writes the piece to its bitmap, without its margin. @param codes of the extended piece */
export function writeBitmap(codes: Uint8Array, { along, across }: Margin, bitmap: PackedBitmap): void {
  const { bytes, columns, rows, stride, levels } = bitmap;
  for (let y = 0; y < rows; y++) {
    const from = (y + across) * (columns + 2 * along) + along;
    if (levels > 2) bytes.set(codes.subarray(from, from + columns), y * stride);
    else packRow(codes, from, columns, bytes, y * stride);
  }
}
