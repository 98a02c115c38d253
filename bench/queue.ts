/**
 * A batch over a queue: `npm run bench:queue`.
 *
 *     --count <n>   uploads (default 500)
 *     --only <part> kills, cost or rates
 *
 * `kills`: 3 worker processes, killed at random moments, and a crash of the server in the middle; the output must be that of a local run,
 * byte for byte. `cost`: what the queue itself takes for a job. `rates`: uploads a second of 1, 2 and 3 worker processes.
 * Exit code 1 if anything is lost, double or different.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { parseArgs } from "node:util";
import { namesIn } from "../tests/cli/command.js";
import { startRedis } from "../tests/support/redis-server.js";
import { queueCost } from "./queue/cost.js";
import { disturbedRun, newStore } from "./queue/disturbed.js";
import { openWorkers, runBatch } from "./queue/runs.js";
import { makeSmallUploads } from "./queue/small-uploads.js";
import { list, markdownTable } from "./table.js";

const { values } = parseArgs({ options: { count: { type: "string" }, only: { type: "string" } } });
const count = Number(values.count ?? 500);
const asked = (part: string): boolean => values.only === undefined || values.only === part;
const COST_COUNT = 1000;
const RATE_COUNT = Math.min(count, 150);

const folder = mkdtempSync(join(tmpdir(), "spotpitch-bench-queue-"));
const uploads = join(folder, "uploads");

async function kills(): Promise<void> {
  const ran = await disturbedRun(folder, uploads, newStore(folder, "store"));
  const isRight = ran.differences.length === 0 && ran.miscounted.length === 0;
  console.log(`## ${count} uploads over 3 worker processes\n`);
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

async function cost(): Promise<void> {
  const small = join(folder, "small");
  await makeSmallUploads(small, COST_COUNT);
  const one = join(folder, "one");
  await makeSmallUploads(one, 1);
  await runBatch(one, join(folder, "one-made"), 1);
  const made = join(folder, "one-made", "order-0000");
  const told = await queueCost(folder, small, newStore(folder, "cost-store"), made);
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
}

async function rates(): Promise<void> {
  const some = join(folder, "some");
  await makeSmallUploads(some, RATE_COUNT);
  const rows: string[][] = [];
  const row = (what: string, seconds: number) =>
    rows.push([what, seconds.toFixed(1), (RATE_COUNT / seconds).toFixed(2)]);
  for (const workers of [1, 2]) {
    const out = join(folder, `local-${workers}`);
    row(`local, ${workers}`, (await runBatch(some, out, workers)).seconds);
  }
  for (const count of [1, 2, 3]) {
    const server = await startRedis();
    const meetAt = ["--queue", server.url, "--store", newStore(folder, `store-${count}`)];
    const workers = openWorkers(meetAt);
    for (let i = 0; i < count; i++) workers.start();
    // They are ready before the clock starts, as in a shop.
    await pause(3000);
    row(`queue, ${count}`, (await runBatch(some, join(folder, `far-${count}`), 1, meetAt)).seconds);
    await workers.close();
    await server.remove();
  }
  console.log(`\n## Uploads a second, ${namesIn(some).length} uploads\n`);
  console.log(markdownTable(["worker processes", "seconds", "uploads a second"], rows));
}

try {
  await makeSmallUploads(uploads, count);
  if (asked("kills")) await kills();
  if (asked("cost")) await cost();
  if (asked("rates")) await rates();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
