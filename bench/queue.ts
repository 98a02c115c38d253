/**
 * A batch over a queue: `npm run bench:queue`.
 *
 *     --count <n>   uploads (default 500)
 *     --only <part> kills, bucket, cost or rates
 *
 * `kills`: 3 worker processes, killed at random moments, and a crash of the server in the middle; the output must be that of a local run,
 * byte for byte. `bucket`: the same with a fifth of the uploads, over an S3-compatible server. `cost`: what the queue itself takes for a job. `rates`: uploads a second of 1, 2 and 3 worker processes.
 * Exit code 1 if anything is lost, double or different.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { parseArgs } from "node:util";
import { namesIn } from "../tests/cli/command.js";
import { startRedis } from "../tests/support/redis-server.js";
import { openBucket } from "./queue/bucket.js";
import { queueCost } from "./queue/cost.js";
import { disturbedRun, newStore } from "./queue/disturbed.js";
import { type BatchRun, openWorkers, runBatch } from "./queue/runs.js";
import { makeSmallUploads } from "./queue/small-uploads.js";
import { list, markdownTable } from "./table.js";

const { values } = parseArgs({ options: { count: { type: "string" }, only: { type: "string" } } });
const count = Number(values.count ?? 500);
const asked = (part: string): boolean => values.only === undefined || values.only === part;
const COST_COUNT = 1000;
const SLOT_COUNT = 200;
const WORK_MS = 200;
const RATE_COUNT = Math.min(count, 150);

const folder = mkdtempSync(join(tmpdir(), "spotpitch-bench-queue-"));
const uploads = join(folder, "uploads");

/** @param kept the folder in which the contents of the store lie */
async function kills(uploads: string, store: string, kept: string): Promise<void> {
  const ran = await disturbedRun(mkdtempSync(join(folder, "kills-")), uploads, store, kept);
  const isRight = ran.differences.length === 0 && ran.miscounted.length === 0;
  console.log(
    `\n## ${namesIn(uploads).length} uploads over 3 worker processes, store ${store.startsWith("s3:") ? "in a bucket" : "in a folder"}\n`,
  );
  console.log(
    list([
      `${ran.kills} workers killed (kill -9), ${ran.lostJobs} jobs taken over, server crashed and started again: ${ran.serverCrashes}`,
      `output tree: ${ran.differences.length === 0 ? "byte-identical to the local run" : `different: ${ran.differences.join(", ")}`}`,
      `uploads not listed exactly once: ${ran.miscounted.join(", ") || "none"}`,
      `left in the store: ${ran.leftInStore.length}`,
      `${ran.seconds.toFixed(1)} s; the local run with 2 processes ${ran.localSeconds.toFixed(1)} s`,
      `the batch said: ${ran.notes.trim().replaceAll("\n", " / ") || "nothing"}`,
    ]),
  );
  if (!isRight) process.exitCode = 1;
}

async function bucket(): Promise<void> {
  const some = join(folder, "for-bucket");
  await makeSmallUploads(some, Math.ceil(count / 5));
  const kept = join(folder, "objects");
  const { place, close } = await openBucket(kept);
  await kills(some, place, join(kept, "shop"));
  await close();
}

async function cost(): Promise<void> {
  const small = join(folder, "small");
  await makeSmallUploads(small, COST_COUNT);
  const one = join(folder, "one");
  await makeSmallUploads(one, 1);
  await runBatch(one, join(folder, "one-made"), 1);
  const made = join(folder, "one-made", "order-0000");
  const told = await queueCost(folder, { uploads: small, made }, { slots: 4, workMs: 0 });
  console.log("\n## The queue itself, for one job\n");
  const figures = [
    ["wall, batch and worker in one process, 64 jobs ahead", `${told.wallMs.toFixed(2)} ms`],
    ["processor, batch and worker together, with store and hashes", `${told.processorMs.toFixed(2)} ms`],
    ["processor of the server", `${told.serverProcessorMs.toFixed(3)} ms`],
    ["commands of the server, those in scripts too", told.serverCommands.toFixed(1)],
    ["bytes to and from the server", `${(told.serverBytes / 1000).toFixed(1)} kB`],
    ["bytes to and from the store", `${(told.storeBytes / 1000).toFixed(1)} kB`],
  ];
  console.log(markdownTable(["", `mean of ${told.jobs} jobs`], figures));
  const some = join(folder, "few");
  await makeSmallUploads(some, SLOT_COUNT);
  const rows: string[][] = [];
  for (const slots of [1, 3, 10, 30]) {
    const { wallMs } = await queueCost(folder, { uploads: some, made }, { slots, workMs: WORK_MS });
    rows.push([String(slots), ((1000 * slots) / WORK_MS).toFixed(0), (1000 / wallMs).toFixed(1)]);
  }
  console.log(`\nJobs that only wait ${WORK_MS} ms, so that the queue alone is measured:\n`);
  console.log(markdownTable(["jobs at the same time", "a second at best", "a second"], rows));
}

async function rates(): Promise<void> {
  const some = join(folder, "some");
  await makeSmallUploads(some, RATE_COUNT);
  const rows: string[][] = [];
  const row = (what: string, { seconds, processorSeconds }: BatchRun) => {
    const processorMs = (1000 * processorSeconds) / RATE_COUNT;
    rows.push([what, seconds.toFixed(1), (RATE_COUNT / seconds).toFixed(2), processorMs.toFixed(0)]);
  };
  for (const workers of [1, 2]) {
    const out = join(folder, `local-${workers}`);
    row(`local, ${workers}`, await runBatch(some, out, workers));
  }
  for (const count of [1, 2, 3]) {
    const server = await startRedis();
    const meetAt = ["--queue", server.url, "--store", newStore(folder, `store-${count}`)];
    const workers = openWorkers(meetAt);
    for (let i = 0; i < count; i++) workers.start();
    // They are ready before the clock starts, as in a shop.
    await pause(3000);
    row(`queue, ${count}`, await runBatch(some, join(folder, `far-${count}`), 1, meetAt));
    await workers.close();
    await server.remove();
  }
  console.log(`\n## Uploads a second, ${namesIn(some).length} uploads\n`);
  console.log(
    markdownTable(
      ["worker processes", "seconds", "uploads a second", "processor of the batch, ms an upload"],
      rows,
    ),
  );
}

try {
  await makeSmallUploads(uploads, count);
  const store = newStore(folder, "store");
  if (asked("kills")) await kills(uploads, store, store);
  if (asked("bucket")) await bucket();
  if (asked("cost")) await cost();
  if (asked("rates")) await rates();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
