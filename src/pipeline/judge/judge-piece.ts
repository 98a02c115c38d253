import type { Frame } from "../../3-resample/frame.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { plainTable } from "../../5-burn/compensate.js";
import { FieldBlocks } from "../../5-burn/field-blocks.js";
import {
  allTiles,
  errorMargin,
  fewerTiles,
  type JudgedTile,
  type JudgedTiles,
  type Reach,
  reachOf,
  sampledTiles,
} from "../../5-burn/judged-tiles.js";
import { type SampledVisualError, type VisualError, visualErrorOf } from "../../5-burn/sampled-error.js";
import { type JudgedExposure, type PlacedBitmap, TileJudge } from "../../5-burn/tile-judge.js";
import { type JudgedSums, type VariedError, type VariedSums, variedError } from "../../5-burn/variation.js";
import type { PackedBitmap } from "../../core/packed-bits.js";
import type { CodeRows } from "../../core/plane-rows.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type BurnModel, exposureOf, plainBurn } from "../burn-model.js";
import { halftoneFunction, type Job } from "../job.js";
import { roundExposure } from "../photo/round-piece.js";
import { fieldShares, plannedRuns } from "./variation-runs.js";
import { viewingOf } from "./viewing.js";

/** Bitmaps up to this size are judged at every pixel. */
const JUDGED_WHOLE_PX = 3e6;

/** Of larger ones, about this many pixels are judged, in squares of this side. */
const JUDGED_PX = 1.2e6;
const SAMPLE_SIDE_PX = 512;

/** Runs with other spots, and without compensation, need an exposure each: no more than about this many pixels get them. */
const SPOT_RUNS_PX = 0.5e6;

/** Width of the strip along the edges of a piece that the pale outermost strip glares into, at 300 mm from the eye. */
const EDGE_MM = 2;
const EDGE_VIEW_MM = 300;

export interface PieceErrors {
  readonly nominal: SampledVisualError;
  /** Under the variation of the machine. */
  readonly varied: VariedError;
  /** At the common doses 1 − σ and 1 + σ, and with a spot of 1 − σ and 1 + σ of its size. */
  readonly underdosed: VisualError;
  readonly overdosed: VisualError;
  readonly smallerSpot: VisualError;
  readonly largerSpot: VisualError;
  /** The error without compensation, if it was requested. */
  readonly uncompensated: VisualError | undefined;
  /** Share of the pixels that were judged; 1 for all. */
  readonly judgedShare: number;
}

/**
 * Compare a bitmap with the target, at nominal settings and under the variation of the machine. A large bitmap is judged on parts
 * that are spread evenly over it.
 *
 * @param piece.codes the photo's luminance on the grid
 * @param plainMethod the halftone to judge also without compensation
 */
export function judgePiece(
  job: Job,
  piece: Pick<Judging, "frame" | "bitmap" | "codes">,
  plainMethod?: HalftoneMethod,
): PieceErrors {
  const release = job.memory.mark();
  const { options, model } = job;
  const { pitch, spread } = options;
  const { bitmap } = piece;
  const { doses, spots, runs } = plannedRuns(spread, options.spot);
  const exposures: Judged[] = [
    { plan: model.plan, doses },
    ...spots.map((spot) => ({ plan: exposureOf(options, spot), doses: [1] })),
    ...(plainMethod ? [{ plan: model.plan, doses: [1], bitmapOf: plainHalftone(job, plainMethod) }] : []),
  ];
  const judging = { ...piece, slopePair: runs.slope.first };
  const { share, ...sums } = judgeExposures(job, judging, exposures);
  const { all, some } = sums;
  release();
  const size = { widthMm: bitmap.columns * pitch.alongMm, heightMm: bitmap.rows * pitch.acrossMm };
  const nominal = visualErrorOf(all.tiles, all.strata, 0);
  const errorsOf = ({ tiles, strata }: JudgedSums, places: readonly number[] = [0, 0]): VisualError[] =>
    places.map((place) => visualErrorOf(tiles, strata, place));
  const [underdosed, overdosed] = errorsOf(all, runs.common);
  const [smallerSpot, largerSpot] = errorsOf(runs.spot ? some : all, runs.spot);
  return {
    ...{ nominal, underdosed, overdosed, smallerSpot, largerSpot },
    varied: variedError(sums, runs, spread, fieldShares(options, size)),
    uncompensated: plainMethod && errorsOf(some, [doses.length + spots.length])[0],
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

interface Judged extends JudgedExposure {
  /** Another bitmap instead of the piece's own, made for each tile from its luminance codes. */
  readonly bitmapOf?: (piece: JudgedTile, codes: Uint16Array) => PlacedBitmap;
}

/** Sums of all tiles with the first exposure, and of some tiles with all exposures. */
interface PieceSums extends VariedSums {
  /** Share of the pixels that were judged. */
  readonly share: number;
}

interface Judging {
  readonly frame: Frame;
  readonly bitmap: PackedBitmap;
  readonly codes: CodeRows;
  readonly slopePair: number;
}

function judgeExposures(
  { memory, model, options }: Job,
  { frame, bitmap, codes, slopePair }: Judging,
  exposures: readonly Judged[],
): PieceSums {
  const closed = options.ringColumns > 0;
  const judged = chooseTiles(bitmap, options, reachOf(...exposures.map(({ plan }) => plan)));
  const some = fewerTiles(judged, SPOT_RUNS_PX);
  const blocks = judged.share === 1 ? new FieldBlocks(judged.inner, options.pitch) : undefined;
  const { doseOfRow } = roundExposure(frame);
  const judge = new TileJudge(
    { memory, response: model.response, pitch: options.pitch, viewing: viewingOf(options), doseOfRow },
    exposures,
    judged.sidePx,
    { pair: slopePair, blocks },
  );
  const luminance = codesWithin(codes, judged.tiles, bitmap.columns);
  const own: PlacedBitmap = { bitmap, left: 0, top: 0, closed };
  judged.tiles.forEach((tile, k) => {
    const codesHere = luminance[k];
    const wanted = some.tiles.includes(tile) ? exposures : exposures.slice(0, 1);
    const bitmaps = wanted.map(({ bitmapOf }) => bitmapOf?.(tile, codesHere) ?? own);
    judge.judge(tile, wantedOf(tile, codesHere, model), bitmaps);
    luminance[k] = NOTHING;
  });
  const tiles = judge.sums();
  const most = Math.max(...tiles.map(({ predictions }) => predictions.length));
  return {
    all: { tiles, strata: judged.strata },
    some: {
      tiles: tiles.filter(({ predictions }) => predictions.length === most),
      strata: some.strata,
    },
    ...{ share: judged.share, blocks },
  };
}

/** Replaces the codes of a judged tile, to free their memory. */
const NOTHING = new Uint16Array(0);

function chooseTiles({ columns, rows }: PackedBitmap, options: ResolvedOptions, reach: Reach): JudgedTiles {
  const { pitch, spot, viewDistanceMm } = options;
  const picture = { columns, rows, closed: options.ringColumns > 0, margin: errorMargin(spot, pitch) };
  if (columns * rows <= JUDGED_WHOLE_PX) return allTiles(picture, reach);
  const edgeMm = (EDGE_MM * viewDistanceMm) / EDGE_VIEW_MM;
  const edge = {
    alongPx: Math.ceil(edgeMm / pitch.alongMm),
    acrossPx: Math.ceil(edgeMm / pitch.acrossMm),
  };
  return sampledTiles(picture, reach, { sidePx: SAMPLE_SIDE_PX, wantedPx: JUDGED_PX, edge });
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
