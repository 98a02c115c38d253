import type { HalftoneMethod } from "../4-halftone/method.js";
import type { ExposurePlan } from "../5-burn/exposure-plan.js";
import { predictLuminance } from "../5-burn/predict.js";
import { sampleTiles, type Tile } from "../5-burn/sample-tiles.js";
import { type VisualError, visualErrors } from "../5-burn/visual-error.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { ResolvedOptions } from "../core/options.js";
import { cropBitmap, type PackedBitmap, packedRow } from "../core/packed-bits.js";
import type { CodeRows } from "../core/plane-rows.js";
import { burnRows } from "./burn-rows.js";
import { type BurnModel, halftoneFunction, plainBurn } from "./job.js";
import { spreadDoses, viewingOf } from "./viewing.js";

/** Pieces up to this size are judged at every pixel. */
const JUDGED_WHOLE_PX = 3e6;

/** Of larger pieces, about so many pixels are judged, in tiles of this side. */
const JUDGED_PX = 2e6;
const TILE_PX = 416;

export interface PieceErrors {
  readonly nominal: VisualError;
  /** Mean visual error over the doses 1 − s, 1, 1 + s. */
  readonly expectedVisualError: number;
  readonly uncompensated: VisualError;
  /** Share of the piece's pixels that were judged; 1 for all. */
  readonly judgedShare: number;
  /** Standard error of `nominal.rms` that comes from judging a part, in L*; 0 where all was judged. */
  readonly standardError: number;
}

/**
 * Hold a bitmap against what was wanted, at the doses of the process spread, and what it would be without compensation.
 * Large pieces are judged on tiles spread evenly over them.
 *
 * @param codes the photo's luminance on the grid
 */
export function judgePiece(
  memory: KernelMemory,
  model: BurnModel,
  bitmap: PackedBitmap,
  codes: CodeRows,
  method: HalftoneMethod,
  options: ResolvedOptions,
): PieceErrors {
  const { columns, rows } = bitmap;
  const whole = columns * rows <= JUDGED_WHOLE_PX;
  const tiles = whole ? [{ left: 0, top: 0, columns, rows }] : sampleTiles(columns, rows, TILE_PX, JUDGED_PX);
  const luminance = codesOfTiles(codes, tiles);
  const errors = tiles.map((tile, k) =>
    judgeTile(memory, model, bitmap, luminance[k], tile, method, options),
  );
  const pixels = tiles.reduce((sum, tile) => sum + tile.columns * tile.rows, 0);
  const [nominal, under, over, uncompensated] = [0, 1, 2, 3].map((k) =>
    pooled(errors.map((each) => each[k])),
  );
  return {
    nominal,
    expectedVisualError: (nominal.rms + under.rms + over.rms) / 3,
    uncompensated,
    judgedShare: pixels / (columns * rows),
    standardError: whole ? 0 : standardError(errors.map(([each]) => each.rms)),
  };
}

/** Errors of tiles of equal size as one: squares and differences average. */
function pooled(errors: readonly VisualError[]): VisualError {
  const meanOf = (value: (error: VisualError) => number): number =>
    errors.reduce((sum, error) => sum + value(error), 0) / errors.length;
  return { rms: Math.sqrt(meanOf(({ rms }) => rms * rms)), bias: meanOf(({ bias }) => bias) };
}

/** Of the root of the mean square over tiles, from the spread of their squares (delta method). */
function standardError(rms: readonly number[]): number {
  const squares = rms.map((each) => each * each);
  const mean = squares.reduce((sum, each) => sum + each, 0) / squares.length;
  const variance =
    squares.reduce((sum, each) => sum + (each - mean) ** 2, 0) / Math.max(1, squares.length - 1);
  return mean === 0 ? 0 : Math.sqrt(variance / squares.length) / (2 * Math.sqrt(mean));
}

/** Luminance codes within each tile; rows are asked for once, in rising order. */
function codesOfTiles(codes: CodeRows, tiles: readonly Tile[]): Uint16Array[] {
  const out = tiles.map(({ columns, rows }) => new Uint16Array(columns * rows));
  const last = Math.max(...tiles.map(({ top, rows }) => top + rows));
  for (let y = 0; y < last; y++) {
    const meets = tiles.flatMap(({ top, rows }, k) => (y >= top && y < top + rows ? [k] : []));
    if (meets.length === 0) continue;
    const row = codes(y);
    for (const k of meets) {
      const { left, top, columns } = tiles[k];
      out[k].set(row.subarray(left, left + columns), (y - top) * columns);
    }
  }
  return out;
}

/** Visual errors of one tile: nominal, under- and overdosed, and uncompensated. */
function judgeTile(
  memory: KernelMemory,
  model: BurnModel,
  bitmap: PackedBitmap,
  codes: Uint16Array,
  tile: Tile,
  method: HalftoneMethod,
  options: ResolvedOptions,
): VisualError[] {
  const release = memory.mark();
  const { plan, response, wantedByCode } = model;
  const { columns, rows } = tile;
  const doses = spreadDoses(options.doseSpread);
  const predicted = doses.map(() => new Float32Array(columns * rows));
  predictTile(memory, model, bitmap, tile, doses, predicted);
  const plain = new Float32Array(columns * rows);
  const plainBits = plainBitmap(memory, model, codes, columns, rows, method, options);
  const row = (y: number): Uint8Array => packedRow(plainBits, y);
  predictLuminance(memory, plan, response, row, columns, rows, 0, rows, [1], [plain]);
  const wanted = Float32Array.from(codes, (code) => wantedByCode[code]);
  release();
  return visualErrors([...predicted, plain], wanted, columns, rows, options.pitch, viewingOf(options));
}

/** Predicted luminance of a tile of the bitmap, with all that reaches it from around. */
function predictTile(
  memory: KernelMemory,
  { plan, response }: BurnModel,
  bitmap: PackedBitmap,
  { left, top, columns, rows }: Tile,
  doses: readonly number[],
  out: readonly Float32Array[],
): void {
  const reach = reachPx(plan);
  const from = { left: Math.max(0, left - reach.along), top: Math.max(0, top - reach.across) };
  const around = cropBitmap(bitmap, {
    ...from,
    columns: Math.min(bitmap.columns, left + columns + reach.along) - from.left,
    rows: Math.min(bitmap.rows, top + rows + reach.across) - from.top,
  });
  const first = top - from.top;
  const planes = doses.map(() => new Float32Array(around.columns * rows));
  const row = (y: number): Uint8Array => packedRow(around, y);
  predictLuminance(
    memory,
    plan,
    response,
    row,
    around.columns,
    around.rows,
    first,
    first + rows,
    doses,
    planes,
  );
  planes.forEach((plane, f) => {
    for (let y = 0; y < rows; y++) {
      const at = y * around.columns + left - from.left;
      out[f].set(plane.subarray(at, at + columns), y * columns);
    }
  });
}

/** Pixels from which dose may come: along, in whole bytes; across, an even number, so that lines keep their direction. */
function reachPx({ evenLines, oddLines, across }: ExposurePlan): { along: number; across: number } {
  const along = Math.max(evenLines.reach, oddLines.reach);
  return { along: 8 * Math.ceil(along / 8), across: 2 * Math.ceil(across.reach / 2) };
}

/** What the tile would be without compensation. */
function plainBitmap(
  memory: KernelMemory,
  model: BurnModel,
  codes: Uint16Array,
  columns: number,
  rows: number,
  method: HalftoneMethod,
  options: ResolvedOptions,
): PackedBitmap {
  const row = memory.uint16(columns);
  const codeRow: CodeRows = (y) => {
    row.set(codes.subarray(y * columns, (y + 1) * columns));
    return row;
  };
  const burner = { burnFor: plainBurn(model), balanced: false };
  const fractionsOf = burnRows(memory, model, burner, codeRow, columns, rows, options);
  const line = memory.int16(columns);
  const fractions = new Int16Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    fractionsOf(y, line);
    fractions.set(line, y * columns);
  }
  return halftoneFunction(method, options, memory)(fractions, columns, rows);
}
