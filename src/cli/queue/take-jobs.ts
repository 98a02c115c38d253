import { setTimeout as pause } from "node:timers/promises";
import type { Meeting } from "./meeting.js";
import { cancelledKey, PREFIX } from "./names.js";
import { enlist, type Listed, strikeOff, TELL_EVERY_MS } from "./roster.js";
import { ForAnother, GivenUp, type Workshop, work } from "./work.js";

/** A worker that takes jobs from a queue until it is closed. */
export interface Taking {
  /** Take no further job, and wait for those that are begun. */
  readonly close: () => Promise<void>;
  /** Leave them to others. */
  readonly abandon: () => void;
  readonly counts: Readonly<Counts>;
}

interface Counts {
  done: number;
  /** Attempts that failed; a later one may succeed. */
  failed: number;
  /** Refused, cancelled, or without its upload. */
  givenUp: number;
}

interface Ways {
  /** At the same time. */
  readonly jobs: number;
  /** After this time without a word from a worker, another one takes its job over. */
  readonly lostAfterMs: number;
  readonly self: Listed;
  /** Tells the user what went wrong. */
  readonly note: (words: string) => void;
}

/** Losses of its worker after which a job is given up: it may be what kills them. */
const MAX_LOSSES = 3;
const LOOK_FOR_CANCELLED_MS = 1000;
/** How long a worker rests after a fault that is not the upload's; twice as long after each further one in a row. */
const FIRST_REST_MS = 500;
const LONGEST_REST_MS = 30_000;

export function takeJobs(
  meeting: Pick<Meeting, "engine" | "redis" | "queue">,
  shop: Workshop,
  { jobs, lostAfterMs, self, note }: Ways,
): Taking {
  const { engine, redis, queue } = meeting;
  const counts: Counts = { done: 0, failed: 0, givenUp: 0 };
  const running = new Map<string, AbortController>();
  const rest = createRest();
  const worker = new engine.Worker(
    queue,
    async (job) => {
      const stop = new AbortController();
      const key = job.id ?? "";
      running.set(key, stop);
      try {
        await rest.after(work(job, shop, stop.signal));
      } finally {
        running.delete(key);
      }
    },
    {
      connection: redis,
      prefix: PREFIX,
      skipVersionCheck: true,
      concurrency: jobs,
      lockDuration: lostAfterMs,
      stalledInterval: lostAfterMs / 2,
      maxStalledCount: MAX_LOSSES,
    },
  );
  worker.on("completed", () => counts.done++);
  worker.on("failed", (job, error) => {
    if (error instanceof GivenUp) counts.givenUp++;
    else counts.failed++;
    note(`A job was not done: ${error.message} (${nameOf(job?.data)}, attempt ${job?.attemptsMade ?? 0}).`);
  });
  worker.on("stalled", () => note("A worker was lost with a job. The job is in the queue again."));
  // Breaks of the connection are told by whoever opened it.
  const told = new Set<string>();
  worker.on("error", (error) => {
    if (error.name !== "ReplyError" || told.has(error.message)) return;
    told.add(error.message);
    note(`The queue server refuses what a worker needs: ${error.message}. Check what its user may do there.`);
  });
  const telling = repeat(TELL_EVERY_MS, () => enlist(redis, self));
  const looking = repeat(LOOK_FOR_CANCELLED_MS, async () => {
    const keys = [...running.keys()];
    if (keys.length === 0) return;
    const marks = await redis.mget(keys.map((key) => cancelledKey(queue, key)));
    for (const [i, mark] of marks.entries()) if (mark !== null) running.get(keys[i])?.abort();
  });
  return {
    counts,
    async close() {
      await worker.close();
      clearInterval(looking);
      clearInterval(telling);
      await strikeOff(redis, self);
    },
    abandon() {
      clearInterval(looking);
      clearInterval(telling);
      void worker.close(true).catch(() => {});
    },
  };
}

/** A worker that is broken, its disk full or its store gone, rests: it must not take the jobs of the others to spoil them. */
function createRest() {
  let faults = 0;
  return {
    async after(work: Promise<void>): Promise<void> {
      try {
        await work;
        faults = 0;
      } catch (error) {
        const isOwn = !(error instanceof GivenUp || error instanceof ForAnother);
        if (isOwn) await pause(Math.min(FIRST_REST_MS * 2 ** faults++, LONGEST_REST_MS));
        throw error;
      }
    },
  };
}

/** What a hostile job calls itself may be anything. */
const nameOf = (data: unknown): string =>
  typeof data === "object" && data !== null && "id" in data
    ? `"${String(data.id).slice(0, 200)}"`
    : "no name";

/** At once and then again and again. What fails is tried the next time. */
function repeat(everyMs: number, work: () => Promise<void>): NodeJS.Timeout {
  const tryIt = (): void => void work().catch(() => {});
  tryIt();
  return setInterval(tryIt, everyMs);
}
