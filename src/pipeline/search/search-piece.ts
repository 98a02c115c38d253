import { availableParallelism } from "node:os";
import { MOVES, STAYS, SWAPS } from "../../4-search/search-model.js";
import { type PackedBitmap, packRow, unpackRow } from "../../core/packed-bits.js";
import { BORDER, type EdgeRows } from "../../core/picture-edge.js";
import type { CodeRows } from "../../core/plane-rows.js";
import { refusal } from "../../core/refusals/refusals.js";
import { startThread, threadsAvailable } from "../../workers/thread.js";
import type { Job } from "../job.js";
import type { PieceSize } from "../judge/variation-runs.js";
import { loneMarks } from "./lone-marks.js";
import { type SearchAim, type SearchPlan, searchPlan } from "./search-plan.js";
import { type SearchedPlanes, type TileOutcome, type TileRequest, TileWork } from "./tile-work.js";
import { tilesOf } from "./tiles.js";
import { type ToneFit, type ToneSums, toneFits } from "./tone-fit.js";

/** Passes over a piece, and visits of each pixel in a pass. Later ones change fewer than 2 pixels in 1000. */
const PASSES = { nominal: 4, robust: 5 } as const;
const SWEEPS = 3;

/** A search ends when a pass changes less than this share of the pixels, or begins with less error at the settings, in L*. */
const SETTLED = 0.002;
const INVISIBLE = 0.02;

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
  const { bitmap, size } = start;
  const plan = searchPlan(job, aim, size);
  const planes = planesOf(job, start, plan);
  const workers = openWorkers(job, { aim, planes, size }, plan, threads);
  const none = plan.doses.map((): ToneFit => ({ offset: 0, slope: 0 }));
  const passes = PASSES[aim];
  let [pass, changed, settled] = [0, 0, false];
  try {
    for (; pass < passes && !settled && spent() < seconds; pass++) {
      // Against time the first pass is a short one.
      const sweeps = pass === 0 && seconds < Number.POSITIVE_INFINITY ? 1 : SWEEPS;
      const tiles = tilesOf(pass, planes, plan.reach);
      planes.after.set(planes.codes);
      const fits =
        aim === "nominal" ? none : toneFits(await workers.measureAll(tiles.map(({ core }) => core)));
      let done = 0;
      const searched = await workers.searchAll(
        tiles.map((tile) => ({ ...tile, fits, sweeps })),
        () => {
          onProgress((pass + ++done / tiles.length) / passes);
          return spent() < seconds;
        },
      );
      if (searched.length < tiles.length) break;
      if (pass === 0) refuseOther(start, searched);
      planes.codes.set(planes.after);
      changed = searched.reduce((sum, { changes }) => sum + changes, 0) / (planes.columns * planes.rows);
      settled = changed < SETTLED || (aim === "nominal" && errorBefore(searched) < INVISIBLE);
    }
  } finally {
    workers.close();
  }
  repack(planes.codes, bitmap);
  return { passes: pass, lastChanged: changed, settled, seconds: spent() };
}

/** The bitmap of another picture is further from this one than this, in L*. */
const OTHER_PICTURE = 5;

/** Throws `INPUT_BITMAP_UNFIT` if a given bitmap shows something else. */
function refuseOther({ from, fileName }: SearchStart, searched: readonly TileOutcome[]): void {
  const error = errorBefore(searched);
  if (from && error >= OTHER_PICTURE) throw refusal("start-bitmap-other", { fileName, error });
}

/** The error at the settings with which a pass began. */
function errorBefore(searched: readonly TileOutcome[]): number {
  const squares = searched.reduce((sum, { sums }) => sum + sums.squares[(sums.squares.length - 1) / 2], 0);
  const pixels = searched.reduce((sum, { sums }) => sum + sums.pixels, 0);
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
  const moveOf = movesByCode(job, plan);
  const { along, across } = plan.reach;
  for (let y = 0; y < rows; y++) {
    const wanted = codes(y);
    const outline = edge?.(y);
    planes.wanted.set(wanted, y * columns);
    for (let x = 0; x < columns; x++) {
      // Along the edges of the piece too: marks lack neighbours there, and nothing tells better from worse.
      const isEdge =
        y < across || y >= rows - across || (!planes.closed && (x < along || x >= columns - along));
      const isFixed = isEdge || (outline !== undefined && (outline[x] === BORDER || outline[x] === 0));
      planes.moves[y * columns + x] = isFixed ? STAYS : moveOf[wanted[x]];
    }
  }
  unpackAll(bitmap, planes.codes);
  from?.forEach((level, at) => {
    if (planes.moves[at] !== STAYS) planes.codes[at] = level;
  });
  return planes;
}

/** Bare stays bare. Near bare and solid, dots only change places (see `loneMarks`). */
function movesByCode({ model }: Job, plan: SearchPlan): Uint8Array {
  const { fromBare, fromSolid } = loneMarks(plan.model);
  const { bare, solid, bareCode, wantedByCode } = model;
  return Uint8Array.from(wantedByCode, (wanted, code) => {
    if (code === bareCode) return STAYS;
    return Math.abs(wanted - bare) < fromBare || Math.abs(wanted - solid) < fromSolid ? SWAPS : MOVES;
  });
}

function unpackAll({ bytes, columns, rows, stride, levels }: PackedBitmap, codes: Uint8Array): void {
  if (levels > 2) codes.set(bytes.subarray(0, codes.length));
  else for (let y = 0; y < rows; y++) unpackRow(bytes, y * stride, columns, codes, y * columns);
}

function repack(codes: Uint8Array, { bytes, columns, rows, stride, levels }: PackedBitmap): void {
  if (levels > 2) bytes.set(codes);
  else for (let y = 0; y < rows; y++) packRow(codes, y * columns, columns, bytes, y * stride);
}

/** What a thread needs to search tiles of a piece. */
export interface SearchData {
  readonly aim: SearchAim;
  readonly planes: SearchedPlanes;
  readonly size: PieceSize;
}

type Core = TileRequest["core"];

/** Threads, or this one, that search tiles. */
interface SearchWorkers {
  readonly measureAll: (cores: readonly Core[]) => Promise<ToneSums[]>;
  /** @param onTile called after each tile; no more are begun if it returns false */
  readonly searchAll: (tiles: readonly TileRequest[], onTile: () => boolean) => Promise<TileOutcome[]>;
  readonly close: () => void;
}

/** Fewer pixels for each thread are not worth its start. */
const LEAST_PX_PER_THREAD = 3e4;

function openWorkers(
  job: Job,
  data: SearchData,
  plan: SearchPlan,
  most = availableParallelism(),
): SearchWorkers {
  const { columns, rows } = data.planes;
  const worth = Math.max(1, Math.floor((columns * rows) / LEAST_PX_PER_THREAD));
  const count = threadsAvailable ? Math.min(most, worth, tilesOf(0, data.planes, plan.reach).length) : 1;
  if (count < 2) return ownWorker(new TileWork(job, plan, data.planes));
  const threads = Array.from({ length: count }, () =>
    startThread(new URL("./search-worker.js", import.meta.url), {
      data: { ...data, options: { ...job.options, mask: undefined, startBitmap: undefined } },
    }),
  );
  return {
    measureAll: (cores) =>
      inTurn(
        cores,
        threads,
        (core, { call }) => call<ToneSums>("measure", core),
        () => true,
      ),
    searchAll: (tiles, onTile) =>
      inTurn(tiles, threads, (tile, { call }) => call<TileOutcome>("search", tile), onTile),
    close: () => {
      for (const { close } of threads) close();
    },
  };
}

function ownWorker(work: TileWork): SearchWorkers {
  return {
    measureAll: async (cores) => cores.map((core) => work.measure(core)),
    searchAll: async (tiles, onTile) => {
      const searched: TileOutcome[] = [];
      for (const tile of tiles) {
        searched.push(work.search(tile));
        if (!onTile()) break;
        // Whoever waits for a signal or a timer has a turn.
        await new Promise((resolve) => setImmediate(resolve));
      }
      return searched;
    },
    close() {},
  };
}

/** Each of some workers takes the next piece of work as soon as it has done one. */
async function inTurn<Given, Worker, Answer>(
  given: readonly Given[],
  workers: readonly Worker[],
  work: (given: Given, worker: Worker) => Promise<Answer>,
  onDone: () => boolean,
): Promise<Answer[]> {
  const answers: Answer[] = [];
  let next = 0;
  await Promise.all(
    workers.map(async (worker) => {
      while (next < given.length) {
        const at = next++;
        answers[at] = await work(given[at], worker);
        if (!onDone()) next = given.length;
      }
    }),
  );
  // A search that is stopped leaves tiles out.
  return answers.filter((answer) => answer !== undefined);
}
