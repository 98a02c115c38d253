import { refusal } from "../../core/refusals/refusals.js";
import type { Job } from "../job.js";
import type { PieceSize } from "../judge/variation-runs.js";
import { type Pass, passesOf } from "./passes.js";
import { eyeWidthPx, type SearchAim, searchPlan } from "./search-plan.js";
import { openWorkers } from "./search-workers.js";
import { allowMoves, type SearchStart, searchedPlanes, writeBitmap } from "./searched-planes.js";
import type { TileOutcome } from "./tile-work.js";
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
export interface PieceStart extends SearchStart {
  readonly size: PieceSize;
  readonly fileName?: string | undefined;
}

/**
 * Lower the seen error of a bitmap by changes of single pixels and of neighbours. The result is the same on any number of threads.
 */
export async function searchPiece(
  job: Job,
  start: PieceStart,
  { aim, seconds = Number.POSITIVE_INFINITY, threads, onProgress }: SearchWishes,
): Promise<SearchOutcome> {
  const begunMs = performance.now();
  const spent = (): number => (performance.now() - begunMs) / 1000;
  const { bitmap, size, from } = start;
  const plan = searchPlan(job, aim, size);
  const planes = searchedPlanes(job, start, plan.reach);
  const workers = openWorkers(job, { aim, planes, size }, plan, threads);
  const hasLimit = seconds < Number.POSITIVE_INFINITY;
  const passes = passesOf({ aim, onward: from !== undefined, hasLimit }, eyeWidthPx(job.options));
  let kept = { passes: 0, lastChanged: 0 };
  let settled = false;
  /** With a time limit: the bitmap after the last pass from the viewing distance. */
  let result: Uint8Array | undefined;
  let done = 0;

  const looksOf = (pass: number, nearness: number) =>
    tilesOf(pass, planes, plan.reach).map((tile) => ({ ...tile, nearness }));

  /** The tiles after a pass; undefined if time was up before the last. */
  async function searchOnce({ nearness, sweeps }: Pass): Promise<TileOutcome[] | undefined> {
    const looks = looksOf(done, nearness);
    allowMoves(planes, job.model, plan.modelFrom(nearness));
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
    if (from)
      refuseOther(start, await workers.measureAll(looksOf(0, job.options.viewDistanceMm / TONES_FROM_MM)));
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
      if (hasLimit) result = planes.codes.slice();
    }
  } finally {
    workers.close();
  }
  writeBitmap(result ?? planes.codes, bitmap);
  return { ...kept, settled, seconds: spent() };
}

/** From so far away no grain is seen, and the tones of another picture are further from this one's than this, in L*. */
const TONES_FROM_MM = 1000;
const OTHER_PICTURE = 5;

/** Throws `INPUT_BITMAP_UNFIT` if a given bitmap shows something else. */
function refuseOther({ fileName }: PieceStart, measured: readonly ToneSums[]): void {
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
