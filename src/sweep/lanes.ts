import { availableParallelism } from "node:os";
import type { CurveStore, Table } from "../pipeline/kept-tables.js";
import { serveThread, startThread, threadsAvailable } from "../workers/thread.js";

/** More lanes would only compete for the caches. */
const MAX_LANES = 8;

/** Context of a lane beside its data: stored tone curves, and threads for each of its requests. */
export interface LaneContext {
  readonly curves?: CurveStore | undefined;
  /** Maximum number. Default: as many as the computer runs at once. */
  readonly threads?: number | undefined;
}

/** Starts work on a lane. The returned function answers requests one after another. */
export type LaneStart<Data, Asked, Answer> = (
  data: Data,
  context: LaneContext,
) => (asked: Asked) => Promise<Answer>;

/** Work for this thread or for several. */
export interface LaneWork<Data, Asked, Answer> {
  readonly begin: LaneStart<Data, Asked, Answer>;
  /** A file that calls `serveLane` with `begin`. */
  readonly entry: URL;
  /** Cloned to each thread. */
  readonly data: Data;
  /** In any unit. The longest requests come first; at the end they would leave the other lanes idle. */
  readonly costOf: (asked: Asked) => number;
}

interface Lane<Asked, Answer> {
  readonly answer: (asked: Asked) => Promise<Answer>;
  readonly close: () => void;
}

/**
 * Work on requests in parallel on threads. The answers are the same on one thread. A single request may use all threads; several
 * requests have one each.
 *
 * @param onAnswer called with each answer and the index of its request
 */
export async function inLanes<Data, Asked, Answer>(
  requests: readonly Asked[],
  work: LaneWork<Data, Asked, Answer>,
  context: LaneContext,
  onAnswer: (answer: Answer, index: number) => void,
): Promise<void> {
  const count = laneCount(requests.length, context.threads);
  const lanes: Lane<Asked, Answer>[] = [];
  const costs = requests.map(work.costOf);
  const waiting = requests.map((_, i) => i).sort((a, b) => costs[a] - costs[b]);
  const drain = async (lane: Lane<Asked, Answer>): Promise<void> => {
    for (let i = waiting.pop(); i !== undefined; i = waiting.pop()) {
      onAnswer(await lane.answer(requests[i]), i);
    }
  };
  try {
    while (lanes.length < count) {
      lanes.push(count > 1 ? threadLane(work, context.curves) : ownLane(work, context));
    }
    await Promise.all(lanes.map(drain));
  } finally {
    for (const lane of lanes) lane.close();
  }
}

/** The number of lanes; 1 is the calling thread. */
const laneCount = (requests: number, threads = availableParallelism()): number =>
  threadsAvailable ? Math.max(1, Math.min(threads, MAX_LANES, requests)) : 1;

const ownLane = <Data, Asked, Answer>(
  { begin, data }: LaneWork<Data, Asked, Answer>,
  context: LaneContext,
): Lane<Asked, Answer> => ({ answer: begin(data, context), close: () => {} });

/** The start data of a lane's thread. */
interface LaneData<Data> {
  readonly data: Data;
  readonly keepsCurves: boolean;
}

interface KeptCurve {
  readonly key: string;
  readonly table: Table;
}

function threadLane<Data, Asked, Answer>(
  { entry, data }: LaneWork<Data, Asked, Answer>,
  curves: CurveStore | undefined,
): Lane<Asked, Answer> {
  const { call, close } = startThread(entry, {
    data: { data, keepsCurves: curves !== undefined } satisfies LaneData<Data>,
    services: {
      getCurve: (key: string) => curves?.get(key),
      setCurve: ({ key, table }: KeptCurve) => curves?.set(key, table),
    },
  });
  return { answer: (asked) => call("answer", asked), close };
}

/** The thread side of a lane. The thread that started it keeps the curves. */
export function serveLane<Data, Asked, Answer>(begin: LaneStart<Data, Asked, Answer>): void {
  serveThread(({ data, keepsCurves }: LaneData<Data>, call) => {
    const curves: CurveStore = {
      get: (key) => call("getCurve", key),
      set: (key, table) => void call("setCurve", { key, table } satisfies KeptCurve),
    };
    return { answer: begin(data, { threads: 1, ...(keepsCurves && { curves }) }) };
  });
}
