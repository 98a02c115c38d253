import { availableParallelism } from "node:os";
import { startThread, threadsAvailable } from "../../workers/thread.js";
import type { Job } from "../job.js";
import type { PieceSize } from "../judge/variation-runs.js";
import type { SearchAim, SearchPlan } from "./search-plan.js";
import { type SearchedPlanes, type TileOutcome, type TileRequest, TileWork } from "./tile-work.js";
import { tilesOf } from "./tiles.js";
import type { ToneSums } from "./tone-fit.js";

/** What a thread needs to search tiles of a piece. */
export interface SearchData {
  readonly aim: SearchAim;
  readonly planes: SearchedPlanes;
  readonly size: PieceSize;
}

/** A tile, and how it is seen. */
export type Look = Pick<TileRequest, "core" | "nearness">;

/** Threads, or this one, that search tiles. */
export interface SearchWorkers {
  readonly measureAll: (looks: readonly Look[]) => Promise<ToneSums[]>;
  /** @param onTile called after each tile; no more are begun if it returns false */
  readonly searchAll: (tiles: readonly TileRequest[], onTile: () => boolean) => Promise<TileOutcome[]>;
  readonly close: () => void;
}

/** Fewer pixels for each thread are not worth its start. */
const LEAST_PX_PER_THREAD = 3e4;

export function openWorkers(
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
    measureAll: (looks) =>
      inTurn(
        looks,
        threads,
        ({ core, nearness }, { call }) => call<ToneSums>("measure", { core, nearness }),
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
    measureAll: async (looks) => looks.map(({ core, nearness }) => work.measure(core, nearness)),
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
