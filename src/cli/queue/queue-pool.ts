import { setMaxListeners } from "node:events";
import { mkdir, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Refusal, refusalOf } from "../../batch/outcome.js";
import type { QueueSettings } from "../../batch/queue-options.js";
import { sha256 } from "../../batch/sha256.js";
import { visible } from "../../core/words.js";
import type { Preparing } from "../batch/pool.js";
import { readUpload } from "../batch/read-upload.js";
import type { PrepareTask } from "../batch/upload-job.js";
import { refusedUpload } from "../batch/upload-refusals.js";
import { commandReader } from "../command-reader.js";
import { tell } from "../terminal.js";
import { atMost } from "./at-most.js";
import { jobFor, type KeyedJob } from "./job.js";
import { type Line, openLine } from "./line.js";
import { type Meeting, meet } from "./meeting.js";
import { gaveUpWords } from "./refusals.js";
import { getMade, getResult, type Result, removeResult } from "./result.js";
import { connectedWorkers, missingWorkersWords } from "./roster.js";
import { inputName, type Store } from "./store.js";
import { INPUT_GONE } from "./work.js";

/** Times that a job is put into the queue, if its result is lost each time. */
const ROUNDS = 10;
/** Uploads and results that are in the memory at the same time. */
const AT_ONCE = 4;
const LOOK_FOR_WORKERS_MS = 10_000;

/**
 * Prepares uploads on other computers. The truth lies in the store: a job is done if its result is there, and everything else is only a
 * reason to look. The queue may lose jobs and hand them out twice.
 *
 * @param jobBytes memory that one job may take
 * @param note tells the user what the batch waits for
 */
export async function openQueuePool(
  settings: QueueSettings,
  jobBytes: number,
  stop: AbortSignal,
  note = (words: string): void => tell(`spotpitch: ${visible(words)}\n`),
): Promise<Preparing> {
  const meeting = await meet(settings, note);
  // Each job listens, and Node.js warns about more than ten.
  setMaxListeners(0, stop);
  const line = openLine(meeting.engine, meeting.redis, meeting.queue, { isRush: settings.rush });
  const lookout = new AbortController();
  void tellOfWorkers(meeting, note, lookout.signal);
  return {
    prepare: createPrepare(meeting.store, line, meeting.release, stop),
    // Its jobs share no memory.
    room: { workers: settings.ahead, jobBytes, togetherBytes: Number.POSITIVE_INFINITY },
    async close() {
      lookout.abort();
      meeting.close();
      await line.close();
    },
  };
}

function createPrepare(
  store: Store,
  line: Line,
  release: string,
  stop: AbortSignal,
): (task: PrepareTask, bytes: number) => Promise<Result> {
  const soon = atMost(AT_ONCE);
  const inputs = createInputs(store);
  return async (task, bytes) => {
    const { id } = task.upload;
    const keyed = jobFor(task, bytes, release);
    inputs.need(keyed);
    try {
      for (let round = 0; round < ROUNDS; round++) {
        stop.throwIfAborted();
        const result = await soon(() => takeResult(store, keyed.key, task));
        if (result) return result;
        const fault = await soon(() => inputs.put(keyed, task));
        if (fault) return fault;
        const left = await line.through(keyed.key, keyed.job, stop);
        if (left !== "gone" && left.gaveUp !== INPUT_GONE) return gaveUp(id, left.gaveUp);
      }
      return gaveUp(id, `its result was lost ${ROUNDS} times`);
    } finally {
      await inputs.done(keyed);
    }
  };
}

const gaveUp = (id: string, reason: string): Refusal => ({
  refused: { code: "QUEUE_GAVE_UP", message: gaveUpWords(id, reason) },
});

/** Fetch what a job has made into the task's folder, and free its place in the store. Undefined if not all of it is there. */
async function takeResult(
  store: Store,
  key: string,
  { folder, stem }: PrepareTask,
): Promise<Result | undefined> {
  const result = await getResult(store, key);
  if (!result) return undefined;
  if ("files" in result) {
    await rm(folder, { recursive: true, force: true });
    await mkdir(folder, { recursive: true });
    for (const { path, sha256: content } of result.files) {
      // Under another name it would take the place of another upload's file.
      const bytes = path.startsWith(`${stem}.`) ? await getMade(store, key, content) : undefined;
      if (bytes) await writeFile(join(folder, path), bytes);
      else return void (await removeResult(store, key, result));
    }
  }
  await removeResult(store, key, result);
  return result;
}

/** Uploads and masks in the store, each as long as a job needs it. */
function createInputs(store: Store) {
  const needed = new Map<string, number>();
  const namesOf = ({ job }: KeyedJob): string[] => [
    inputName(job.contentSha256),
    ...(job.mask ? [inputName(job.mask.sha256)] : []),
  ];
  return {
    need(keyed: KeyedJob): void {
      for (const name of namesOf(keyed)) needed.set(name, (needed.get(name) ?? 0) + 1);
    },
    /** Returns the refusal of an upload that cannot be read any more, or that has changed. */
    async put({ job, mask }: KeyedJob, { upload, limits }: PrepareTask): Promise<Refusal | undefined> {
      if (job.mask && mask) await store.put(inputName(job.mask.sha256), mask);
      if (await store.has(inputName(job.contentSha256))) return undefined;
      try {
        const bytes = await readUpload(upload, limits.maxBytes);
        if (sha256(bytes) !== job.contentSha256) throw refusedUpload.changed(upload.id);
        await store.put(inputName(job.contentSha256), bytes);
        return undefined;
      } catch (error) {
        return refusalOf(error, job.contentSha256, commandReader);
      }
    },
    async done(keyed: KeyedJob): Promise<void> {
      for (const name of namesOf(keyed)) {
        const left = (needed.get(name) ?? 1) - 1;
        needed.set(name, left);
        if (left > 0) continue;
        needed.delete(name);
        // What stays is told by nothing, and is found again by the next batch that needs it.
        await store.remove(name).catch(() => {});
      }
    },
  };
}

/** Say so, once for each reason, as long as no worker takes the jobs. */
async function tellOfWorkers(
  { redis, release, store }: Meeting,
  note: (words: string) => void,
  end: AbortSignal,
): Promise<void> {
  let told: string | undefined;
  while (!end.aborted) {
    const words = missingWorkersWords(await connectedWorkers(redis).catch(() => []), release, store.identity);
    if (words !== undefined && words !== told && !end.aborted) note(words);
    told = words;
    await pause(LOOK_FOR_WORKERS_MS, undefined, { signal: end, ref: false }).catch(() => {});
  }
}
