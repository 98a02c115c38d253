import type { HalftoneMethod } from "../../4-halftone/method.js";
import { plainTable } from "../../5-burn/compensate.js";
import { planExposure } from "../../5-burn/exposure-plan.js";
import {
  allTiles,
  type JudgedTile,
  type JudgedTiles,
  type Reach,
  reachOf,
  sampledTiles,
} from "../../5-burn/judged-tiles.js";
import type { SampledVisualError } from "../../5-burn/sampled-error.js";
import { type JudgedExposure, type PlacedBitmap, TileJudge } from "../../5-burn/tile-judge.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import type { PackedBitmap } from "../../core/packed-bits.js";
import type { CodeRows } from "../../core/plane-rows.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type BurnModel, halftoneFunction, plainBurn } from "../job.js";
import { roundExposure } from "../photo/round-piece.js";
import { spreadDoses, viewingOf } from "./viewing.js";

/** Bitmaps up to this size are judged at every pixel. */
const JUDGED_WHOLE_PX = 3e6;

/** Of larger ones, about so many pixels are judged, in pieces that are filtered in squares of this side. */
const JUDGED_PX = 1.2e6;
const SAMPLE_SIDE_PX = 512;

export interface PieceErrors {
  readonly nominal: SampledVisualError;
  /** At the doses 1 − s and 1 + s. */
  readonly underdosed: SampledVisualError;
  readonly overdosed: SampledVisualError;
  /** Mean visual error over the doses 1 − s, 1, 1 + s. */
  readonly expectedVisualError: number;
  readonly uncompensated: SampledVisualError;
  /** Share of the pixels that were judged; 1 for all. */
  readonly judgedShare: number;
}

/**
 * Hold a bitmap against what was wanted, at the doses of the process spread, and what it would be without compensation.
 * A large one is judged on pieces spread evenly over it.
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
  const release = memory.mark();
  const { plan } = model;
  const uncompensatedFraction = plainTable({ ...model, burnFor: plainBurn(model) });
  const halftone = halftoneFunction(method, options, model, memory);
  const plainHalftone = ({ burned: { left, top, columns, rows } }: JudgedTile, codesHere: Uint16Array) => {
    const fractions = new Int16Array(codesHere.length);
    for (let i = 0; i < fractions.length; i++) fractions[i] = uncompensatedFraction[codesHere[i]];
    return { bitmap: halftone(fractions, columns, rows), left, top };
  };
  const { errors, share } = judgeExposures(
    memory,
    model,
    bitmap,
    codes,
    [
      { plan, doses: spreadDoses(options.doseSpread) },
      { plan, doses: [1], bitmapOf: plainHalftone },
    ],
    options,
  );
  release();
  const [nominal, underdosed, overdosed, uncompensated] = errors;
  return {
    nominal,
    underdosed,
    overdosed,
    expectedVisualError: (nominal.rms + underdosed.rms + overdosed.rms) / 3,
    uncompensated,
    judgedShare: share,
  };
}

/** Spot diameters of a machine a little out of focus, or focused better than when the spot was measured. */
const FOCUS_SPREAD = 0.1;

export interface FocusErrors {
  /** Visual error with a spot smaller and larger by a tenth in both directions, the dose being nominal. */
  readonly smallerSpot: SampledVisualError;
  readonly largerSpot: SampledVisualError;
}

/** Hold the same bitmap against the same wish with another spot than it was made for. */
export function judgeFocus(
  memory: KernelMemory,
  model: BurnModel,
  bitmap: PackedBitmap,
  codes: CodeRows,
  options: ResolvedOptions,
): FocusErrors {
  const release = memory.mark();
  const { pitch, spot, motion, levels } = options;
  const exposures = [1 - FOCUS_SPREAD, 1 + FOCUS_SPREAD].map((factor) => {
    const other = { alongMm: factor * spot.alongMm, acrossMm: factor * spot.acrossMm };
    return { plan: planExposure(pitch, other, motion, 1, levels), doses: [1] };
  });
  const { errors } = judgeExposures(memory, model, bitmap, codes, exposures, options);
  release();
  return { smallerSpot: errors[0], largerSpot: errors[1] };
}

interface Judged extends JudgedExposure {
  /** Another bitmap in place of the piece's own, made for each piece from its luminance codes. */
  readonly bitmapOf?: (piece: JudgedTile, codes: Uint16Array) => PlacedBitmap;
}

function judgeExposures(
  memory: KernelMemory,
  model: BurnModel,
  bitmap: PackedBitmap,
  codes: CodeRows,
  exposures: readonly Judged[],
  options: ResolvedOptions,
): { readonly errors: readonly SampledVisualError[]; readonly share: number } {
  const closed = options.wrap !== undefined;
  const reach = reachOf(...exposures.map(({ plan }) => plan));
  const { tiles: pieces, sidePx, share } = choosePieces(bitmap, reach, closed);
  const viewing = viewingOf(options);
  const { doseOfRow } = roundExposure(options, bitmap.rows);
  const judge = new TileJudge(
    { memory, response: model.response, pitch: options.pitch, viewing, doseOfRow },
    exposures,
    sidePx,
  );
  const luminance = codesWithin(codes, pieces, bitmap.columns);
  const own: PlacedBitmap = { bitmap, left: 0, top: 0, closed };
  pieces.forEach((piece, k) => {
    const codesHere = luminance[k];
    const bitmaps = exposures.map(({ bitmapOf }) => bitmapOf?.(piece, codesHere) ?? own);
    judge.judge(piece, wantedOf(piece, codesHere, model), bitmaps);
    luminance[k] = NOTHING;
  });
  return { errors: judge.errors(share), share };
}

/** In place of what has been judged. */
const NOTHING = new Uint16Array(0);

function choosePieces({ columns, rows }: PackedBitmap, reach: Reach, closed: boolean): JudgedTiles {
  return columns * rows <= JUDGED_WHOLE_PX
    ? allTiles({ columns, rows, closed }, reach)
    : sampledTiles({ columns, rows, closed }, reach, { sidePx: SAMPLE_SIDE_PX, wantedPx: JUDGED_PX });
}

/** Luminance codes within each piece's burned rectangle, columns counted round; rows are asked for once, in rising order. */
function codesWithin(codes: CodeRows, pieces: readonly JudgedTile[], allColumns: number): Uint16Array[] {
  const out = pieces.map(({ burned }) => new Uint16Array(burned.columns * burned.rows));
  const end = Math.max(...pieces.map(({ burned }) => burned.top + burned.rows));
  for (let y = 0; y < end; y++) {
    const meets = pieces.flatMap(({ burned: { top, rows } }, k) => (y >= top && y < top + rows ? [k] : []));
    if (meets.length === 0) continue;
    const row = codes(y);
    for (const k of meets) {
      const { left, top, columns } = pieces[k].burned;
      const to = (y - top) * columns;
      for (let x = 0; x < columns; ) {
        const from = (((left + x) % allColumns) + allColumns) % allColumns;
        const run = row.subarray(from, Math.min(allColumns, from + columns - x));
        out[k].set(run, to + x);
        x += run.length;
      }
    }
  }
  return out;
}

/** Luminance factors wanted of what is seen of a piece. */
function wantedOf(
  { seen, burned }: JudgedTile,
  codes: Uint16Array,
  { wantedByCode }: BurnModel,
): Float32Array {
  const wanted = new Float32Array(seen.columns * seen.rows);
  for (let y = 0, to = 0; y < seen.rows; y++) {
    let from = (seen.top - burned.top + y) * burned.columns + seen.left - burned.left;
    for (let x = 0; x < seen.columns; x++) wanted[to++] = wantedByCode[codes[from++]];
  }
  return wanted;
}
