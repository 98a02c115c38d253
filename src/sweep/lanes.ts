import { once } from "node:events";
import { availableParallelism } from "node:os";
import { parentPort, type Worker } from "node:worker_threads";
import { errorOf, type Failure, failureOf, SpotpitchError } from "../core/errors.js";
import { threadsAvailable } from "../pipeline/burn/burn-thread.js";

/** More lanes than this only crowd the caches. */
const MOST_LANES = 8;

/** Work that can be done one request after the other, on this thread or on several. */
export interface LaneWork<Asked, Answer> {
  /** Begins on this thread; what it gives answers requests. */
  readonly begin: () => (asked: Asked) => Promise<Answer>;
  /** Starts a thread that calls `serveLane`. */
  readonly start: () => Worker;
  /** In any unit. The longest come first: last, they would leave the other lanes idle. */
  readonly costOf: (asked: Asked) => number;
}

type LaneReply<Answer> = { readonly answer: Answer } | { readonly failure: Failure };

interface Lane<Asked, Answer> {
  readonly answer: (asked: Asked) => Promise<Answer>;
  readonly close: () => void;
}

/**
 * Works out requests side by side on threads; the answers are the same on one.
 *
 * @param onAnswer given each answer as it comes, with its place among the requests
 * @param threads at most. Default: as many as the computer runs at once
 */
export async function inLanes<Asked, Answer>(
  requests: readonly Asked[],
  work: LaneWork<Asked, Answer>,
  onAnswer: (answer: Answer, index: number) => void,
  threads?: number,
): Promise<void> {
  const count = laneCount(requests.length, threads);
  const lanes = Array.from({ length: count }, () => (count > 1 ? threadLane(work) : ownLane(work)));
  const costs = requests.map(work.costOf);
  const waiting = requests.map((_, i) => i).sort((a, b) => costs[a] - costs[b]);
  const drain = async (lane: Lane<Asked, Answer>): Promise<void> => {
    for (let i = waiting.pop(); i !== undefined; i = waiting.pop()) {
      onAnswer(await lane.answer(requests[i]), i);
    }
  };
  try {
    await Promise.all(lanes.map(drain));
  } finally {
    for (const lane of lanes) lane.close();
  }
}

/** How many lanes so many requests run on; 1 is the calling thread. */
export const laneCount = (requests: number, threads = availableParallelism()): number =>
  threadsAvailable ? Math.max(1, Math.min(threads, MOST_LANES, requests)) : 1;

/** The other end of a lane: answers requests on a thread, one at a time. */
export function serveLane<Asked, Answer>(answer: (asked: Asked) => Promise<Answer>): void {
  parentPort?.on("message", async (asked: Asked) => {
    try {
      parentPort?.postMessage({ answer: await answer(asked) } satisfies LaneReply<Answer>);
    } catch (error) {
      parentPort?.postMessage({ failure: failureOf(error) } satisfies LaneReply<Answer>);
    }
  });
}

const ownLane = <Asked, Answer>({ begin }: LaneWork<Asked, Answer>): Lane<Asked, Answer> => ({
  answer: begin(),
  close: () => {},
});

function threadLane<Asked, Answer>({ start }: LaneWork<Asked, Answer>): Lane<Asked, Answer> {
  const worker = start();
  // A thread that ends by an error or on its own answers no more.
  const ended = once(worker, "exit").then((): never => {
    throw new SpotpitchError("INTERNAL", "A worker thread has ended before its work was done.");
  });
  ended.catch(() => {}); // told to whoever waits for an answer
  return {
    async answer(asked) {
      worker.postMessage(asked);
      const [reply] = (await Promise.race([once(worker, "message"), ended])) as [LaneReply<Answer>];
      if ("answer" in reply) return reply.answer;
      throw errorOf(reply.failure);
    },
    close: () => void worker.terminate(),
  };
}
