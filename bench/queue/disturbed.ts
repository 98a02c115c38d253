import { existsSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { seededRandom } from "../../src/core/random.js";
import { treeOf } from "../../tests/cli/batch/uploads.js";
import { namesIn } from "../../tests/cli/command.js";
import { startRedis } from "../../tests/support/redis-server.js";
import { openWorkers, runBatch } from "./runs.js";

const WORKERS = 3;
const SHORTEST_PAUSE_MS = 1500;
const LONGEST_PAUSE_MS = 6000;
const SERVER_IS_GONE_MS = 1500;

export interface Disturbed {
  readonly localSeconds: number;
  readonly seconds: number;
  readonly kills: number;
  /** Jobs that a killed worker had in its hands, or that the server's crash took from theirs. */
  readonly lostJobs: number;
  readonly serverCrashes: number;
  /** Paths that only one tree has, or with other bytes. */
  readonly differences: readonly string[];
  /** Uploads that `batch.json` does not name once. */
  readonly miscounted: readonly string[];
  readonly leftInStore: readonly string[];
  readonly notes: string;
}

/**
 * A local run, and the same over a queue whose workers are killed at random moments, and whose server crashes once in the
 * middle.
 *
 * @param kept the folder in which the contents of the store lie
 */
export async function disturbedRun(
  folder: string,
  uploads: string,
  store: string,
  kept: string,
): Promise<Disturbed> {
  const local = await runBatch(uploads, join(folder, "local"), 2);
  const server = await startRedis();
  const meetAt = ["--queue", server.url, "--store", store];
  const workers = openWorkers(meetAt);
  for (let i = 0; i < WORKERS; i++) workers.start();
  const random = seededRandom(4711);
  const out = join(folder, "far");
  const names = namesIn(uploads);
  const ledger = join(out, ".spotpitch", "ledger");
  let kills = 0;
  let serverCrashes = 0;
  let isOver = false;
  const disturb = async (): Promise<void> => {
    while (!isOver) {
      await pause(SHORTEST_PAUSE_MS + (LONGEST_PAUSE_MS - SHORTEST_PAUSE_MS) * random());
      if (isOver || !existsSync(ledger)) continue;
      const done = namesIn(ledger).length;
      if (serverCrashes === 0 && done > names.length / 2) {
        serverCrashes++;
        await server.kill();
        await pause(SERVER_IS_GONE_MS);
        await server.start();
      }
      workers.kill(random());
      workers.start();
      kills++;
    }
  };
  const disturbing = disturb();
  const far = await runBatch(uploads, out, 1, meetAt);
  isOver = true;
  await disturbing;
  await workers.close();
  await server.remove();
  const [here, there] = [treeOf(join(folder, "local")), treeOf(out)];
  const paths = new Set([...Object.keys(here), ...Object.keys(there)]);
  const listed: string[] = JSON.parse(readFileSync(join(out, "batch.json"), "utf8")).uploads.map(
    ({ file }: { file: string }) => file,
  );
  return {
    localSeconds: local.seconds,
    seconds: far.seconds,
    kills,
    lostJobs: workers.told().match(/A worker was lost with a job/g)?.length ?? 0,
    serverCrashes,
    differences: [...paths].filter((path) => here[path] !== there[path]),
    miscounted: names.filter((name) => listed.filter((each) => each === name).length !== 1),
    leftInStore: ["inputs", "results"].flatMap((each) => filesBelow(join(kept, each))),
    notes: far.stderr,
  };
}

function filesBelow(folder: string): string[] {
  if (!existsSync(folder)) return [];
  const all = readdirSync(folder, { recursive: true, withFileTypes: true });
  return all.filter((entry) => entry.isFile()).map(({ name }) => name);
}

/** A store that is a folder, empty. */
export function newStore(folder: string, name: string): string {
  mkdirSync(join(folder, name));
  return join(folder, name);
}
