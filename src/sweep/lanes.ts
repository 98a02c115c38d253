import { availableParallelism } from "node:os";
import type { CurveStore, Table } from "../pipeline/kept-tables.js";
import { serveThread, startThread, threadsAvailable } from "../workers/thread.js";

/** More lanes than this only crowd the caches. */
const MOST_LANES = 8;

/** What a lane has beside its data: tone curves that are kept, and threads for each of its requests. */
export interface LaneContext {
  readonly curves?: CurveStore | undefined;
  /** At most. Default: as many as the computer runs at once. */
  readonly threads?: number | undefined;
}

/** Begins on a lane; what it gives answers requests, one after the other. */
export type LaneStart<Data, Asked, Answer> = (
  data: Data,
  context: LaneContext,
) => (asked: Asked) => Promise<Answer>;

/** Work that can be done on this thread or on several. */
export interface LaneWork<Data, Asked, Answer> {
  readonly begin: LaneStart<Data, Asked, Answer>;
  /** A file that gives `begin` to `serveLane`. */
  readonly entry: URL;
  /** Cloned to each thread. */
  readonly data: Data;
  /** In any unit. The longest come first: last, they would leave the other lanes idle. */
  readonly costOf: (asked: Asked) => number;
}

interface Lane<Asked, Answer> {
  readonly answer: (asked: Asked) => Promise<Answer>;
  readonly close: () => void;
}

/**
 * Works out requests side by side on threads; the answers are the same on one. A single request is spread over the threads
 * that there are; several have one each.
 *
 * @param onAnswer given each answer as it comes, with its place among the requests
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

/** How many lanes so many requests run on; 1 is the calling thread. */
const laneCount = (requests: number, threads = availableParallelism()): number =>
  threadsAvailable ? Math.max(1, Math.min(threads, MOST_LANES, requests)) : 1;

const ownLane = <Data, Asked, Answer>(
  { begin, data }: LaneWork<Data, Asked, Answer>,
  context: LaneContext,
): Lane<Asked, Answer> => ({ answer: begin(data, context), close: () => {} });

/** What a lane's thread is started with. */
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

/** The other end of a lane on a thread. Its curves are kept by the thread that started it. */
export function serveLane<Data, Asked, Answer>(begin: LaneStart<Data, Asked, Answer>): void {
  serveThread(({ data, keepsCurves }: LaneData<Data>, call) => {
    const curves: CurveStore = {
      get: (key) => call("getCurve", key),
      set: (key, table) => void call("setCurve", { key, table } satisfies KeptCurve),
    };
    return { answer: begin(data, { threads: 1, ...(keepsCurves && { curves }) }) };
  });
}
