import { setTimeout as pause } from "node:timers/promises";
import type { Redis } from "ioredis";
import { cancelledKey, PREFIX } from "./names.js";
import type { QueueEngine } from "./packages.js";
import { refusedQueue } from "./refusals.js";

/**
 * How a job has left the queue. `gone`: it was done, or the server has forgotten it; the store knows which. Else the reason for which
 * it is not tried any more.
 */
export type Left = "gone" | { readonly gaveUp: string };

/** The jobs of a batch in a queue. */
export interface Line {
  /** Put a job into the queue, unless it is there, and wait until it has left it. Rejects when the signal aborts. */
  readonly through: (key: string, job: object, stop: AbortSignal) => Promise<Left>;
  readonly close: () => Promise<void>;
}

/** The queue is asked about all jobs at once; one question for each would be told sooner, but costs the server more. */
const LOOK_EVERY_MS = 100;
/** A fault that passes is tried again after 1, 2, 4 and 8 seconds. */
const ATTEMPTS = 5;
/** Jobs that were given up stay visible for a week. */
const LISTED = { age: 7 * 24 * 3600, count: 1000 };
/** Rush orders before all others. */
const PRIORITY = { rush: 1, usual: 100 };
/** Longer than any job may take. */
const CANCELLED_FOR_S = 3600;
/** Without a server, nobody can be told that a batch was cancelled. */
const TELL_WITHIN_MS = 3000;

interface Ways {
  readonly isRush: boolean;
  /** Before the second attempt; each further pause is twice as long. */
  readonly firstPauseMs?: number;
}

export function openLine(
  { Queue }: Pick<QueueEngine, "Queue">,
  redis: Redis,
  name: string,
  { isRush, firstPauseMs = 1000 }: Ways,
): Line {
  const queue = new Queue(name, {
    connection: redis,
    prefix: PREFIX,
    skipVersionCheck: true,
    // Nobody reads them: the store tells what was done, whatever was missed.
    streams: { events: { maxLen: 100 } },
  });
  // What becomes of the connection is told by whoever opened it.
  queue.on("error", () => {});
  const waiting = new Map<string, (left: Left) => void>();
  let isLooking = false;

  async function look(): Promise<void> {
    if (isLooking) return;
    isLooking = true;
    while (waiting.size > 0) {
      await pause(LOOK_EVERY_MS);
      const keys = [...waiting.keys()];
      const asked = redis.pipeline();
      for (const key of keys) asked.hmget(queue.toKey(key), "timestamp", "finishedOn", "failedReason");
      const answers = (await asked.exec().catch(() => null)) ?? [];
      for (const [i, [error, answer]] of answers.entries()) {
        const left = error ? undefined : leftBy(answer as readonly (string | null)[]);
        if (left !== undefined) waiting.get(keys[i])?.(left);
      }
    }
    isLooking = false;
  }

  const leaves = (key: string, stop: AbortSignal): Promise<Left> =>
    new Promise((resolve, reject) => {
      const onStop = (): void => {
        waiting.delete(key);
        reject(stop.reason);
      };
      if (stop.aborted) return onStop();
      stop.addEventListener("abort", onStop, { once: true });
      waiting.set(key, (left) => {
        waiting.delete(key);
        stop.removeEventListener("abort", onStop);
        resolve(left);
      });
      void look();
    });

  async function offer(key: string, job: object): Promise<void> {
    await redis.del(cancelledKey(name, key));
    // One that was given up earlier would keep its place.
    if (await redis.hexists(queue.toKey(key), "finishedOn")) await queue.remove(key);
    await queue.add("prepare", job, {
      jobId: key,
      priority: isRush ? PRIORITY.rush : PRIORITY.usual,
      attempts: ATTEMPTS,
      backoff: { type: "exponential", delay: firstPauseMs },
      removeOnComplete: true,
      removeOnFail: LISTED,
    });
  }

  /** A job that waits leaves the queue; a worker that is at it stops. */
  async function cancel(key: string): Promise<void> {
    await redis.set(cancelledKey(name, key), "1", "EX", CANCELLED_FOR_S);
    await queue.remove(key);
  }

  return {
    async through(key, job, stop) {
      try {
        await untilStopped(offer(key, job), stop);
        return await leaves(key, stop);
      } catch (error) {
        if (!stop.aborted) throw refusedQueue.queueFails(error);
        await Promise.race([cancel(key).catch(() => {}), pause(TELL_WITHIN_MS)]);
        throw error;
      }
    },
    close: () => queue.close().catch(() => {}),
  };
}

function leftBy([timestamp, finishedOn, failedReason]: readonly (string | null)[]): Left | undefined {
  if (timestamp === null) return "gone";
  return finishedOn !== null && failedReason !== null ? { gaveUp: failedReason } : undefined;
}

/** Without a server a command waits for it, but nobody waits for the command any more. */
function untilStopped<Value>(work: Promise<Value>, stop: AbortSignal): Promise<Value> {
  return new Promise((resolve, reject) => {
    const onStop = (): void => reject(stop.reason);
    if (stop.aborted) onStop();
    stop.addEventListener("abort", onStop, { once: true });
    work.then(resolve, reject).finally(() => stop.removeEventListener("abort", onStop));
  });
}
