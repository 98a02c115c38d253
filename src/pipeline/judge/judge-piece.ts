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
import type { PackedBitmap } from "../../core/packed-bits.js";
import type { CodeRows } from "../../core/plane-rows.js";
import { type BurnModel, plainBurn } from "../burn-model.js";
import { halftoneFunction, type Job } from "../job.js";
import { roundExposure } from "../photo/round-piece.js";
import { spreadDoses, viewingOf } from "./viewing.js";

/** Bitmaps up to this size are judged at every pixel. */
const JUDGED_WHOLE_PX = 3e6;

/** Of larger ones, about this many pixels are judged, in squares of this side. */
const JUDGED_PX = 1.2e6;
const SAMPLE_SIDE_PX = 512;

export interface PieceErrors {
  readonly nominal: SampledVisualError;
  /** At the doses 1 − s and 1 + s. */
  readonly underdosed: SampledVisualError;
  readonly overdosed: SampledVisualError;
  /** Mean visual error over the doses 1 − s, 1, 1 + s. */
  readonly expectedVisualError: number;
  /** The error without compensation, if it was requested. */
  readonly uncompensated: SampledVisualError | undefined;
  /** Share of the pixels that were judged; 1 for all. */
  readonly judgedShare: number;
}

/**
 * Compare a bitmap with the target, at the doses of the process spread. A large bitmap is judged on parts that are spread evenly
 * over it.
 *
 * @param codes the photo's luminance on the grid
 * @param plainMethod the halftone to judge also without compensation
 */
export function judgePiece(
  job: Job,
  bitmap: PackedBitmap,
  codes: CodeRows,
  plainMethod?: HalftoneMethod,
): PieceErrors {
  const release = job.memory.mark();
  const { plan } = job.model;
  const exposures: Judged[] = [{ plan, doses: spreadDoses(job.options.spread) }];
  if (plainMethod) exposures.push({ plan, doses: [1], bitmapOf: plainHalftone(job, plainMethod) });
  const { errors, share } = judgeExposures(job, bitmap, codes, exposures);
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

/** The bitmap of a part of the picture without compensation. */
function plainHalftone(job: Job, method: HalftoneMethod): NonNullable<Judged["bitmapOf"]> {
  const { model } = job;
  const fractionOf = plainTable({ ...model, burnFor: plainBurn(model) });
  const halftone = halftoneFunction(method, job);
  return ({ burned: { left, top, columns, rows } }, codes) => {
    const fractions = new Int16Array(codes.length);
    for (let i = 0; i < fractions.length; i++) fractions[i] = fractionOf[codes[i]];
    return { bitmap: halftone(fractions, columns, rows), left, top };
  };
}

/** Change of the spot diameter if the machine is a little out of focus, or focused better than when the spot was measured. */
const FOCUS_SPREAD = 0.1;

export interface FocusErrors {
  /** Visual error at nominal dose with a spot that is smaller or larger by a tenth in both directions. */
  readonly smallerSpot: SampledVisualError;
  readonly largerSpot: SampledVisualError;
}

/** Compare the bitmap with the target, burned with another spot than it was made for. */
export function judgeFocus(job: Job, bitmap: PackedBitmap, codes: CodeRows): FocusErrors {
  const release = job.memory.mark();
  const { pitch, spot, motion, levels, material } = job.options;
  const exposures = [1 - FOCUS_SPREAD, 1 + FOCUS_SPREAD].map((factor) => {
    const other = { alongMm: factor * spot.alongMm, acrossMm: factor * spot.acrossMm };
    return { plan: planExposure(pitch, other, motion, { levels, material }), doses: [1] };
  });
  const { errors } = judgeExposures(job, bitmap, codes, exposures);
  release();
  return { smallerSpot: errors[0], largerSpot: errors[1] };
}

interface Judged extends JudgedExposure {
  /** Another bitmap instead of the piece's own, made for each tile from its luminance codes. */
  readonly bitmapOf?: (piece: JudgedTile, codes: Uint16Array) => PlacedBitmap;
}

function judgeExposures(
  { memory, model, options }: Job,
  bitmap: PackedBitmap,
  codes: CodeRows,
  exposures: readonly Judged[],
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

/** Replaces the codes of a judged tile, to free their memory. */
const NOTHING = new Uint16Array(0);

function choosePieces({ columns, rows }: PackedBitmap, reach: Reach, closed: boolean): JudgedTiles {
  return columns * rows <= JUDGED_WHOLE_PX
    ? allTiles({ columns, rows, closed }, reach)
    : sampledTiles({ columns, rows, closed }, reach, { sidePx: SAMPLE_SIDE_PX, wantedPx: JUDGED_PX });
}

/** Luminance codes within each tile's burned rectangle; columns wrap around. Each row is read once, in rising order. */
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

/** Target luminance factors of the visible part of a tile. */
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
