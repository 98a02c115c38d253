import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename } from "node:path";
import { defaultLimits } from "../../../src/batch/limits.js";
import type { Prepared } from "../../../src/batch/outcome.js";
import type { QueueSettings } from "../../../src/batch/queue-options.js";
import { sha256 } from "../../../src/batch/sha256.js";
import type { LocalPool, Preparing } from "../../../src/cli/batch/pool.js";
import type { PrepareTask } from "../../../src/cli/batch/upload-job.js";
import { type Meeting, meet } from "../../../src/cli/queue/meeting.js";
import { createMemoryGate } from "../../../src/cli/queue/memory-gate.js";
import { openQueuePool } from "../../../src/cli/queue/queue-pool.js";
import { type Taking, takeJobs } from "../../../src/cli/queue/take-jobs.js";
import { METRIC } from "../../../src/core/shown-units.js";
import type { PrepareOptions } from "../../../src/options/tables.js";
import type { TestServer } from "../../support/redis-server.js";
import type { temporaryFolder } from "../command.js";

type Prepare = LocalPool["prepare"];
type Folder = ReturnType<typeof temporaryFolder>;

/** Instead of an engraving bitmap: the upload's bytes backwards, with the name of the piece. */
export const engrave: Prepare = async ({ upload, folder, stem, options }) => {
  const bytes = Buffer.concat([
    Buffer.from(readFileSync(upload.path)).reverse(),
    Buffer.from(JSON.stringify(options)),
  ]);
  mkdirSync(folder, { recursive: true });
  writeFileSync(`${folder}/${stem}.burn.png`, bytes);
  const files = [{ path: `${stem}.burn.png`, sha256: sha256(bytes) }];
  return { findings: [], figures: { widthMm: 8 } as Prepared["figures"], files, thumbnail: "AAAA" };
};

const notAsked = () => Promise.reject(new Error("A worker surveys nothing."));

/** Batches and workers of one harbour workshop, in this process, with a server and a store of their own. */
export function openWorkshop(server: TestServer, folder: Folder) {
  const store = folder.in("store");
  mkdirSync(store);
  mkdirSync(folder.in("uploads"));
  const settings: QueueSettings = {
    ...{ queue: server.url, store, login: undefined, ahead: 3, rush: false },
  };
  const closing: (() => Promise<void>)[] = [];
  const shop = {
    settings,
    notes: [] as string[],
    /** A task for an upload of this content. */
    task(name: string, content: string, options: PrepareOptions = { widthMm: 8 }): PrepareTask {
      const path = folder.in("uploads", name);
      if (!existsSync(path)) writeFileSync(path, content);
      const stem = basename(name, ".jpg");
      return {
        ...{ upload: { id: name, path }, limits: defaultLimits, options, asGiven: { units: METRIC } },
        ...{ contentSha256: sha256(content), folder: folder.in("made", stem), stem },
      };
    },
    async batch(stop = new AbortController().signal, own: Partial<QueueSettings> = {}): Promise<Preparing> {
      const pool = await openQueuePool({ ...settings, ...own }, 1e9, stop, (words) => shop.notes.push(words));
      closing.push(pool.close);
      return pool;
    },
    async meeting(): Promise<Meeting> {
      const meeting = await meet(settings, (words) => shop.notes.push(words));
      closing.push(async () => meeting.close());
      return meeting;
    },
    async worker(prepare: Prepare, jobs = 1, release?: string): Promise<Taking> {
      const meeting = await shop.meeting();
      const pool: LocalPool = {
        ...{ prepare, survey: notAsked, hash: notAsked, room: { workers: jobs, jobBytes: 1e9 } },
        close: async () => {},
      };
      const own = { store: meeting.store, pool, gate: createMemoryGate(1e9), folder: folder.in("work") };
      const self = {
        ...{ host: "quay", process: jobs, store: meeting.store.identity },
        release: release ?? meeting.release,
      };
      const taking = takeJobs(
        meeting,
        { ...own, release: self.release },
        { jobs, lostAfterMs: 1000, self, note: (words) => shop.notes.push(words) },
      );
      closing.push(taking.close);
      return taking;
    },
    /** Everything that a test has opened. */
    async close(): Promise<void> {
      for (const close of closing.splice(0).reverse()) await close();
    },
  };
  return shop;
}

/** The small job of these tests takes no memory beside its process. */
export const BYTES = 300e6;
