import { MOVES, STAYS, SWAPS } from "../../4-search/search-model.js";
import { type PackedBitmap, packRow, unpackRow } from "../../core/packed-bits.js";
import { BORDER, type EdgeRows } from "../../core/picture-edge.js";
import type { CodeRows } from "../../core/plane-rows.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { Job } from "../job.js";
import type { PieceSize } from "../judge/variation-runs.js";
import { loneMarks } from "./lone-marks.js";
import { type Pass, passesOf } from "./passes.js";
import { eyeWidthPx, type SearchAim, type SearchPlan, searchPlan } from "./search-plan.js";
import { openWorkers } from "./search-workers.js";
import type { SearchedPlanes, TileOutcome } from "./tile-work.js";
import { tilesOf } from "./tiles.js";
import { type ToneFit, type ToneSums, toneFits } from "./tone-fit.js";

/**
 * A search ends when a pass from the viewing distance changes less than this share of the pixels, or begins with less error at the
 * settings, in L*.
 */
const SETTLED = 0.002;
const INVISIBLE = 0.02;

const NO_SHIFT: ToneFit = { offset: 0, slope: 0 };

/** What a search does, and how far it goes. */
export interface SearchWishes {
  readonly aim: SearchAim;
  /** It stops after so many seconds, at the last whole pass: half of one would leave two textures side by side. */
  readonly seconds: number | undefined;
  /** Most threads. Default: as many as the computer runs at once. */
  readonly threads: number | undefined;
  /** @param share of the work that is done, 0..1 */
  readonly onProgress: (share: number) => void;
}

/** What a search did. */
export interface SearchOutcome {
  readonly passes: number;
  /** Share of the pixels that the last pass changed, and whether the search ended there because that was so few. */
  readonly lastChanged: number;
  readonly settled: boolean;
  readonly seconds: number;
}

/** A piece on its grid, and its start. */
export interface SearchStart {
  readonly size: PieceSize;
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
  readonly fileName?: string | undefined;
}

/**
 * Lower the seen error of a bitmap by changes of single pixels and of neighbours. The result is the same on any number of threads.
 */
export async function searchPiece(
  job: Job,
  start: SearchStart,
  { aim, seconds = Number.POSITIVE_INFINITY, threads, onProgress }: SearchWishes,
): Promise<SearchOutcome> {
  const begunMs = performance.now();
  const spent = (): number => (performance.now() - begunMs) / 1000;
  const { bitmap, size, from } = start;
  const plan = searchPlan(job, aim, size);
  const planes = planesOf(job, start, plan);
  const workers = openWorkers(job, { aim, planes, size }, plan, threads);
  const hurried = seconds < Number.POSITIVE_INFINITY;
  const passes = passesOf({ aim, onward: from !== undefined, hurried }, eyeWidthPx(job.options));
  let kept = { passes: 0, lastChanged: 0 };
  let settled = false;
  /** Against time: the bitmap after the last pass from the viewing distance. */
  let result: Uint8Array | undefined;
  let done = 0;

  const looksOf = (pass: number, nearness: number) =>
    tilesOf(pass, planes, plan.reach).map((tile) => ({ ...tile, nearness }));

  /** The tiles after a pass; undefined if time was up before the last. */
  async function searchOnce({ nearness, sweeps }: Pass): Promise<TileOutcome[] | undefined> {
    const looks = looksOf(done, nearness);
    allowMoves(job, planes, plan, nearness);
    planes.after.set(planes.codes);
    const fits =
      aim === "nominal" ? plan.doses.map(() => NO_SHIFT) : toneFits(await workers.measureAll(looks));
    const tiles = looks.map((look) => ({ ...look, fits, sweeps }));
    let searchedTiles = 0;
    const searched = await workers.searchAll(tiles, () => {
      onProgress((done + ++searchedTiles / tiles.length) / passes.length);
      return spent() < seconds;
    });
    return searched.length < tiles.length ? undefined : searched;
  }

  try {
    if (from) refuseOther(start, await workers.measureAll(looksOf(0, 1)));
    for (const pass of passes) {
      if (settled || spent() >= seconds) break;
      const searched = await searchOnce(pass);
      if (!searched) break;
      done++;
      planes.codes.set(planes.after);
      if (pass.nearness > 1 && result) continue;
      const changes = searched.reduce((sum, tile) => sum + tile.changes, 0);
      kept = { passes: done, lastChanged: changes / (planes.columns * planes.rows) };
      if (pass.nearness > 1) continue;
      settled = kept.lastChanged < SETTLED || (aim === "nominal" && errorBefore(searched) < INVISIBLE);
      if (hurried) result = planes.codes.slice();
    }
  } finally {
    workers.close();
  }
  repack(result ?? planes.codes, bitmap);
  return { ...kept, settled, seconds: spent() };
}

/** The bitmap of another picture is further from this one than this, in L*. */
const OTHER_PICTURE = 5;

/** Throws `INPUT_BITMAP_UNFIT` if a given bitmap shows something else. */
function refuseOther({ fileName }: SearchStart, measured: readonly ToneSums[]): void {
  const error = nominalError(measured);
  if (error >= OTHER_PICTURE) throw refusal("start-bitmap-other", { fileName, error });
}

/** The error at the settings with which a pass began. */
const errorBefore = (searched: readonly TileOutcome[]): number =>
  nominalError(searched.map(({ sums }) => sums));

function nominalError(parts: readonly ToneSums[]): number {
  const squares = parts.reduce((sum, { squares }) => sum + squares[(squares.length - 1) / 2], 0);
  const pixels = parts.reduce((sum, { pixels }) => sum + pixels, 0);
  return Math.sqrt(squares / Math.max(1, pixels));
}

/** A plane that all threads see. */
const shared = (bytes: number): SharedArrayBuffer => new SharedArrayBuffer(bytes);

function planesOf(
  job: Job,
  { edge, codes, bitmap, rowDoses, from }: SearchStart,
  plan: SearchPlan,
): SearchedPlanes {
  const { columns, rows } = bitmap;
  const pixels = columns * rows;
  const planes = {
    ...{ columns, rows, closed: job.options.ringColumns > 0 },
    codes: new Uint8Array(shared(pixels)),
    after: new Uint8Array(shared(pixels)),
    wanted: new Uint16Array(shared(2 * pixels)),
    moves: new Uint8Array(shared(pixels)),
    rowDoses,
  };
  const { along, across } = plan.reach;
  const { bareCode } = job.model;
  for (let y = 0; y < rows; y++) {
    const wanted = codes(y);
    const outline = edge?.(y);
    planes.wanted.set(wanted, y * columns);
    for (let x = 0; x < columns; x++) {
      // Along the edges of the piece too: marks lack neighbours there, and nothing tells better from worse.
      const isEdge =
        y < across || y >= rows - across || (!planes.closed && (x < along || x >= columns - along));
      const isFixed = isEdge || (outline !== undefined && (outline[x] === BORDER || outline[x] === 0));
      planes.moves[y * columns + x] = isFixed || wanted[x] === bareCode ? STAYS : MOVES;
    }
  }
  unpackAll(bitmap, planes.codes);
  from?.forEach((level, at) => {
    if (planes.moves[at] !== STAYS) planes.codes[at] = level;
  });
  return planes;
}

/** Near bare and solid, dots only change places (see `loneMarks`). What stays stays. */
function allowMoves(
  { model }: Job,
  { moves, wanted }: SearchedPlanes,
  plan: SearchPlan,
  nearness: number,
): void {
  const { fromBare, fromSolid } = loneMarks(plan.modelFrom(nearness));
  const { bare, solid, wantedByCode } = model;
  const moveOf = Uint8Array.from(wantedByCode, (tone) =>
    Math.abs(tone - bare) < fromBare || Math.abs(tone - solid) < fromSolid ? SWAPS : MOVES,
  );
  for (let at = 0; at < moves.length; at++) if (moves[at] !== STAYS) moves[at] = moveOf[wanted[at]];
}

function unpackAll({ bytes, columns, rows, stride, levels }: PackedBitmap, codes: Uint8Array): void {
  if (levels > 2) codes.set(bytes.subarray(0, codes.length));
  else for (let y = 0; y < rows; y++) unpackRow(bytes, y * stride, columns, codes, y * columns);
}

function repack(codes: Uint8Array, { bytes, columns, rows, stride, levels }: PackedBitmap): void {
  if (levels > 2) bytes.set(codes);
  else for (let y = 0; y < rows; y++) packRow(codes, y * columns, columns, bytes, y * stride);
}
