import { once } from "node:events";
import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { PlanRow } from "../../6-report/plan.js";
import { errorOf, type Failure } from "../../core/errors.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { threadsAvailable } from "../burn-thread.js";
import { type PictureSource, planRow, type RowRequest } from "./plan-row.js";

/** What a lane's thread is given to begin with, and what it answers to each request. */
export type LaneData = Omit<PictureSource, "decoded" | "shown">;
export type LaneReply = { readonly row: PlanRow } | { readonly failure: Failure };

/** More lanes than this only crowd the caches. */
const MOST_LANES = 8;

/** Works out one row at a time. */
interface Lane {
  readonly row: (request: RowRequest) => Promise<PlanRow>;
  readonly close: () => void;
}

/**
 * The rows of a plan, in the order asked for, worked out side by side on as many threads as the computer runs at once.
 * They are the same on one thread.
 *
 * @param onRow told after each row how many are done
 */
export async function planRows(
  requests: readonly RowRequest[],
  source: LaneData,
  threads = availableParallelism(),
  onRow: (done: number) => void = () => {},
): Promise<PlanRow[]> {
  const worthThreads = requests.some(({ kind }) => kind === "photo") && threadsAvailable;
  const count = worthThreads ? Math.max(1, Math.min(threads, MOST_LANES, requests.length)) : 1;
  const lanes = Array.from({ length: count }, () => (count > 1 ? threadLane(source) : ownLane(source)));
  const rows: PlanRow[] = new Array(requests.length);
  // The densest take longest: last come, they would leave the other lanes idle.
  const waiting = requests.map((_, i) => i).sort((a, b) => density(requests[a]) - density(requests[b]));
  let done = 0;
  const drain = async (lane: Lane): Promise<void> => {
    for (let i = waiting.pop(); i !== undefined; i = waiting.pop()) {
      rows[i] = await lane.row(requests[i]);
      onRow(++done);
    }
  };
  try {
    await Promise.all(lanes.map(drain));
  } finally {
    for (const lane of lanes) lane.close();
  }
  return rows;
}

const density = ({ options }: RowRequest): number => options.linesPerInch ?? 0;

function ownLane({ bytes, fileName }: LaneData): Lane {
  const memory = createKernelMemory();
  const source: PictureSource = { bytes, fileName };
  return { row: (request) => planRow(memory, request, source), close: () => {} };
}

function threadLane(source: LaneData): Lane {
  const worker = new Worker(new URL("./plan-worker.js", import.meta.url), { workerData: source });
  return {
    async row(request) {
      worker.postMessage(request);
      const [reply] = (await once(worker, "message")) as [LaneReply];
      if ("row" in reply) return reply.row;
      throw errorOf(reply.failure);
    },
    close: () => void worker.terminate(),
  };
}
