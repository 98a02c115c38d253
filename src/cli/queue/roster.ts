import type { Redis } from "ioredis";
import * as z from "zod";
import { ROSTER } from "./names.js";

/** A worker that is connected, as it tells others. */
export interface Listed {
  readonly host: string;
  readonly process: number;
  readonly release: string;
  /** Of the store that it sees. */
  readonly store: string;
}

const listedSchema = z.object({
  host: z.string().max(255),
  process: z.number(),
  release: z.string().max(200),
  store: z.string().max(100),
});

/** A worker tells every 5 s that it is there, and counts as gone after three times that. */
export const TELL_EVERY_MS = 5000;
const GONE_AFTER_MS = 3 * TELL_EVERY_MS;

/** By the server's clock, because those of several computers differ. */
async function serverMs(redis: Redis): Promise<number> {
  const [seconds, micros] = await redis.time();
  return 1000 * Number(seconds) + Number(micros) / 1000;
}

export async function enlist(redis: Redis, worker: Listed): Promise<void> {
  await redis.zadd(ROSTER, String(await serverMs(redis)), JSON.stringify(worker));
}

export async function strikeOff(redis: Redis, worker: Listed): Promise<void> {
  await redis.zrem(ROSTER, JSON.stringify(worker));
}

/** The workers that are there. Those of whom nothing was heard are struck off. */
export async function connectedWorkers(redis: Redis): Promise<Listed[]> {
  const since = (await serverMs(redis)) - GONE_AFTER_MS;
  await redis.zremrangebyscore(ROSTER, "-inf", String(since));
  return (await redis.zrange(ROSTER, "0", "-1")).flatMap(readListed);
}

/** Anybody who can write to the server can write something else. */
function readListed(text: string): Listed[] {
  try {
    const { data } = listedSchema.safeParse(JSON.parse(text));
    return data ? [data] : [];
  } catch {
    return [];
  }
}

/** What a batch tells about its workers; undefined if there is one that takes its jobs. */
export function missingWorkersWords(
  workers: readonly Listed[],
  release: string,
  store: string,
): string | undefined {
  if (workers.some((worker) => worker.release === release && worker.store === store)) return undefined;
  const others = workers.filter((worker) => worker.release !== release);
  const apart = workers.length - others.length;
  return [
    "No worker takes the jobs of this batch yet, so it waits.",
    ...(others.length > 0
      ? [
          `${counted(others.length)} of another release: ${[...new Set(others.map((each) => each.release))].join("; ")}. This batch is of ${release}. Only equal releases make equal files: install the same on all computers.`,
        ]
      : []),
    ...(apart > 0
      ? [
          `${counted(apart)} with another store. Give batch and workers the same --store, and check that it is mounted on each computer.`,
        ]
      : []),
    ...(workers.length === 0
      ? ["Start one, on this computer or another: spotpitch worker, with the same --queue and --store."]
      : []),
  ].join(" ");
}

const counted = (workers: number): string =>
  workers === 1 ? "1 worker is connected" : `${workers} workers are connected`;
