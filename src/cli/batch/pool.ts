import { existsSync, rmSync } from "node:fs";
import { join } from "node:path";
import { type Prepared, type Refusal, refusalOf } from "../../batch/outcome.js";
import { WorkerDied } from "../../workers/link.js";
import { openProcesses } from "../../workers/processes.js";
import { commandReader } from "../command-reader.js";
import type { Hashed, PrepareTask, Survey, SurveyTask } from "./upload-job.js";
import { refusedUpload } from "./upload-refusals.js";

/** A worker process was ended because it held more memory than its task was given. */
export interface Exceeded {
  readonly exceeded: true;
}

/** Worker processes that survey uploads and prepare them, each within as many bytes of memory as it is given. */
export interface Pool {
  readonly survey: (task: SurveyTask, bytes: number) => Promise<Survey | Exceeded>;
  readonly prepare: (task: PrepareTask, bytes: number) => Promise<Prepared | Refusal | Exceeded>;
  readonly hash: (task: SurveyTask, bytes: number) => Promise<Hashed | Exceeded>;
  /** Stop all processes immediately. */
  readonly close: () => Promise<void>;
}

/** @param folder for the marks of processes that exceed their memory */
export function openPool(workers: number, folder: string, signal: AbortSignal): Pool {
  const processes = openProcesses(new URL("./batch-worker.js", import.meta.url), workers);
  let marks = 0;
  const run = async <T>(
    name: string,
    task: SurveyTask | PrepareTask,
    bytes: number,
  ): Promise<T | Refusal | Exceeded> => {
    const { upload, limits } = task;
    const late = AbortSignal.timeout(1000 * limits.maxSeconds);
    const mark = join(folder, `memory-${++marks}`);
    const given = { ...task, memory: { bytes, mark } };
    try {
      return await processes.call<T>(name, given, AbortSignal.any([late, signal]));
    } catch (error) {
      signal.throwIfAborted();
      if (!late.aborted && !(error instanceof WorkerDied)) throw error;
      if (!late.aborted && existsSync(mark)) {
        rmSync(mark);
        return { exceeded: true };
      }
      if (!late.aborted) return refusalOf(refusedUpload.workerCrashed(upload.id), undefined, commandReader);
      const { maxSeconds } = limits;
      const content = "contentSha256" in task ? task.contentSha256 : undefined;
      return {
        ...refusalOf(refusedUpload.tooSlow(upload.id, maxSeconds), content, commandReader),
        maxSeconds,
      };
    }
  };
  return {
    survey: (task, bytes) => run("survey", task, bytes),
    prepare: (task, bytes) => run("prepareUpload", task, bytes),
    hash: (task, bytes) => run("hash", task, bytes),
    close: processes.close,
  };
}
