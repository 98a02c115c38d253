import { mkdir, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { PROCESS_BYTES } from "../../batch/memory-need.js";
import { sha256 } from "../../batch/sha256.js";
import type { LocalPool } from "../batch/pool.js";
import type { PrepareTask } from "../batch/upload-job.js";
import { checkedJob, JobRefused, type QueueJob } from "./job.js";
import type { MemoryGate } from "./memory-gate.js";
import { getResult, putResult, type Result } from "./result.js";
import { inputName, type Store } from "./store.js";

/** Why a job is given up whose upload is not in the store: another batch may have removed it. */
export const INPUT_GONE = "its upload is not in the store any more";

/** A job that no further attempt can help. The engine knows it by the name. */
export class GivenUp extends Error {
  override readonly name = "UnrecoverableError";
}

/** An attempt that failed through no fault of the worker. */
export class ForAnother extends Error {
  override readonly name = "ForAnother";
}

/** A job as the engine hands it over. */
export interface HandedOver {
  readonly id?: string | undefined;
  readonly data: unknown;
  /** Earlier attempts. */
  readonly attemptsMade: number;
}

/** What a worker has. */
export interface Workshop {
  readonly store: Store;
  readonly pool: LocalPool;
  readonly gate: MemoryGate;
  /** For unfinished files. */
  readonly folder: string;
  readonly release: string;
}

/** Crashes of its process after which an upload is refused. Others than the upload may have ended the first ones. */
const CRASHES = 3;

/**
 * Do one job: the same function as in a batch without a queue, between fetching the upload and putting away the files. What is there
 * already is not made again. It throws what may pass, for another attempt; `GivenUp` for what cannot.
 */
export async function work(handed: HandedOver, shop: Workshop, stop: AbortSignal): Promise<void> {
  const { job, key } = accepted(handed, shop.release);
  if (await getResult(shop.store, key)) return;
  const needBytes = Math.max(0, job.bytes - PROCESS_BYTES);
  if (!shop.gate.fits(needBytes)) throw new ForAnother(tooSmallWords(needBytes));
  await shop.gate.within(needBytes, async () => {
    const folder = join(shop.folder, key);
    await rm(folder, { recursive: true, force: true });
    try {
      const task = await fetched(job, shop.store, folder);
      const result = await shop.pool.prepare(task, job.bytes, stop);
      if (isCrash(result) && handed.attemptsMade + 1 < CRASHES) throw new ForAnother("its process crashed");
      await putResult(shop.store, key, result, task.folder);
    } catch (error) {
      // Whoever still wants the result finds none, and asks again.
      if (!stop.aborted) throw error;
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  });
}

function accepted(
  { id, data }: HandedOver,
  release: string,
): { readonly job: QueueJob; readonly key: string } {
  try {
    return { job: checkedJob(id, data, release), key: id ?? "" };
  } catch (error) {
    if (error instanceof JobRefused) throw new GivenUp(`a worker refused the job: ${error.message}`);
    throw error;
  }
}

const isCrash = (result: Result): boolean => "crashed" in result && result.crashed === true;

/** The task of a job, with its upload in a folder of its own. */
async function fetched(job: QueueJob, store: Store, folder: string): Promise<PrepareTask> {
  const { id, limits, asGiven, contentSha256, stem } = job;
  const path = join(folder, "upload");
  await mkdir(folder, { recursive: true });
  await writeFile(path, await inputOf(store, contentSha256, limits.maxBytes));
  const mask = job.mask && {
    bytes: await inputOf(store, job.mask.sha256, limits.maxBytes),
    fileName: job.mask.fileName,
  };
  return {
    upload: { id, path },
    limits,
    options: { ...job.options, ...(mask && { mask }) },
    asGiven,
    contentSha256,
    folder: join(folder, "made"),
    stem,
  };
}

async function inputOf(store: Store, contentSha256: string, maxBytes: number): Promise<Uint8Array> {
  const bytes = await store.get(inputName(contentSha256), maxBytes);
  if (!bytes) throw new GivenUp(INPUT_GONE);
  if (sha256(bytes) === contentSha256) return bytes;
  await store.remove(inputName(contentSha256));
  throw new GivenUp(INPUT_GONE);
}

const gigabytes = (bytes: number): string => `${Number((bytes / 1e9).toPrecision(2))} GB`;
const tooSmallWords = (needBytes: number): string =>
  `it needs ${gigabytes(needBytes)} of memory, and the workers that it came to have less (--memory)`;
