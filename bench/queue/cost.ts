import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { defaultLimits } from "../../src/batch/limits.js";
import type { Prepared } from "../../src/batch/outcome.js";
import { sha256 } from "../../src/batch/sha256.js";
import type { LocalPool } from "../../src/cli/batch/pool.js";
import type { PrepareTask } from "../../src/cli/batch/upload-job.js";
import { meet } from "../../src/cli/queue/meeting.js";
import { createMemoryGate } from "../../src/cli/queue/memory-gate.js";
import { openQueuePool } from "../../src/cli/queue/queue-pool.js";
import { takeJobs } from "../../src/cli/queue/take-jobs.js";
import { METRIC } from "../../src/core/shown-units.js";
import { startRedis } from "../../tests/support/redis-server.js";

const JOB_BYTES = 1e9;
const PROCESS_BYTES = 300e6;
const AHEAD = 64;

/** What the queue itself costs for one job, without the work. */
export interface QueueCost {
  readonly jobs: number;
  readonly wallMs: number;
  /** Of batch and worker together, with store and hashing. */
  readonly processorMs: number;
  readonly serverProcessorMs: number;
  readonly serverCommands: number;
  readonly serverBytes: number;
  readonly storeBytes: number;
}

/** The files of a real piece, given back at once for every upload. */
function replay(made: string, result: Prepared, workMs: number): LocalPool {
  const files = readdirSync(made).map((name) => [name, readFileSync(join(made, name))] as const);
  const notAsked = () => Promise.reject(new Error("not asked for"));
  return {
    survey: notAsked,
    hash: notAsked,
    room: { workers: 1, jobBytes: JOB_BYTES },
    close: async () => {},
    async prepare({ folder }) {
      await pause(workMs);
      mkdirSync(folder, { recursive: true });
      for (const [name, bytes] of files) writeFileSync(join(folder, name), bytes);
      return result;
    },
  };
}

/**
 * @param given a folder of small pictures, and the folder with the files of a piece of that size
 * @param load how many jobs a worker has at the same time, and how long it waits over each
 */
export async function queueCost(
  folder: string,
  { uploads, made }: { readonly uploads: string; readonly made: string },
  { slots, workMs }: { readonly slots: number; readonly workMs: number },
): Promise<QueueCost> {
  const server = await startRedis();
  const store = mkdtempSync(join(folder, "cost-store-"));
  const quiet = (): void => {};
  const meeting = await meet({ queue: server.url, store, login: undefined }, quiet);
  const result: Prepared = {
    findings: [],
    figures: {} as Prepared["figures"],
    files: readdirSync(made).map((path) => ({ path, sha256: sha256(readFileSync(join(made, path))) })),
    // As long as those of a small picture.
    ...{ thumbnail: "A".repeat(3000), photo: "A".repeat(5000) },
  };
  const shop = {
    ...{ store: meeting.store, pool: replay(made, result, workMs), release: meeting.release },
    ...{ gate: createMemoryGate(JOB_BYTES), folder: join(folder, "cost-work") },
  };
  const self = { host: "bench", process: 1, release: meeting.release, store: meeting.store.identity };
  const taking = takeJobs(meeting, shop, { jobs: slots, lostAfterMs: 30_000, self, note: quiet });
  const settings = { queue: server.url, store, login: undefined, ahead: AHEAD, rush: false };
  const pool = await openQueuePool(settings, JOB_BYTES, new AbortController().signal, quiet);
  const tasks = readdirSync(uploads).map((name) => taskOf(uploads, name, join(folder, "cost-made")));
  const before = await counters(meeting.redis);
  const [begun, used] = [performance.now(), process.cpuUsage()];
  const waiting = [...tasks];
  const one = async (): Promise<void> => {
    for (let task = waiting.pop(); task; task = waiting.pop()) await pool.prepare(task, PROCESS_BYTES);
  };
  await Promise.all(Array.from({ length: AHEAD }, one));
  const wallMs = performance.now() - begun;
  const { user, system } = process.cpuUsage(used);
  const after = await counters(meeting.redis);
  await pool.close();
  await taking.close();
  meeting.close();
  await server.remove();
  const inputBytes = tasks.reduce((sum, { upload }) => sum + readFileSync(upload.path).length, 0);
  const madeBytes = readdirSync(made).reduce((sum, name) => sum + readFileSync(join(made, name)).length, 0);
  const resultBytes = JSON.stringify(result).length;
  const jobs = tasks.length;
  return {
    jobs,
    wallMs: wallMs / jobs,
    processorMs: (user + system) / 1000 / jobs,
    serverProcessorMs: (1000 * (after.processorS - before.processorS)) / jobs,
    serverCommands: (after.commands - before.commands) / jobs,
    serverBytes: (after.bytes - before.bytes) / jobs,
    // Each is written once and read once.
    storeBytes: 2 * (inputBytes / jobs + madeBytes + resultBytes),
  };
}

function taskOf(uploads: string, name: string, made: string): PrepareTask {
  const path = join(uploads, name);
  const stem = basename(name, ".jpg");
  return {
    ...{ upload: { id: name, path }, limits: defaultLimits, asGiven: { units: METRIC } },
    ...{ options: { widthMm: 8, method: "floyd-steinberg", bitmapOnly: true } },
    ...{ contentSha256: sha256(readFileSync(path)), folder: join(made, stem), stem },
  };
}

/** The server's own counters. Those inside scripts count as commands too. */
async function counters(redis: { info(): Promise<string> }) {
  const info = await redis.info();
  const field = (name: string): number => Number(new RegExp(`^${name}:(.*)$`, "m").exec(info)?.[1] ?? 0);
  return {
    commands: field("total_commands_processed"),
    processorS: field("used_cpu_user") + field("used_cpu_sys"),
    bytes: field("total_net_input_bytes") + field("total_net_output_bytes"),
  };
}
