import { existsSync, rmSync } from "node:fs";
import { join } from "node:path";
import { type Prepared, type Refusal, refusalOf } from "../../batch/outcome.js";
import { WorkerDied } from "../../workers/link.js";
import { openProcesses } from "../../workers/processes.js";
import { commandReader } from "../command-reader.js";
import type { Hashed, PrepareTask, Survey, SurveyTask } from "./upload-job.js";
import { refusedUpload } from "./upload-refusals.js";
import type { Exceeded, JobMemory } from "./within-memory.js";

/** Who prepares uploads, each within as many bytes of memory as it is given: the processes of this computer, or a queue. */
export interface Preparing {
  readonly prepare: (task: PrepareTask, bytes: number) => Promise<Prepared | Refusal | Exceeded>;
  /** How many uploads may be prepared side by side. */
  readonly room: JobMemory;
  /** Stop immediately. */
  readonly close: () => Promise<void>;
}

/** Worker processes that survey uploads too. */
export interface Pool extends Preparing {
  readonly survey: (task: SurveyTask, bytes: number) => Promise<Survey | Exceeded>;
  readonly hash: (task: SurveyTask, bytes: number) => Promise<Hashed | Exceeded>;
}

/** Worker processes of which a single task can be stopped. */
export interface LocalPool extends Pool {
  /** @param stop ends the process, and the promise rejects */
  readonly prepare: (
    task: PrepareTask,
    bytes: number,
    stop?: AbortSignal,
  ) => Promise<Prepared | Refusal | Exceeded>;
}

/** @param folder for the marks of processes that exceed their memory */
export function openPool(room: JobMemory, folder: string, stopped: AbortSignal): LocalPool {
  const { workers } = room;
  const processes = openProcesses(new URL("./batch-worker.js", import.meta.url), workers);
  let marks = 0;
  const run = async <T>(
    name: string,
    task: SurveyTask | PrepareTask,
    bytes: number,
    stop?: AbortSignal,
  ): Promise<T | Refusal | Exceeded> => {
    const signal = stop ? AbortSignal.any([stopped, stop]) : stopped;
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
      if (!late.aborted) {
        return {
          ...refusalOf(refusedUpload.workerCrashed(upload.id), undefined, commandReader),
          crashed: true,
        };
      }
      const { maxSeconds } = limits;
      const isSearched = "options" in task && task.options.method === "burn-search";
      const content = "contentSha256" in task ? task.contentSha256 : undefined;
      return {
        ...refusalOf(refusedUpload.tooSlow(upload.id, maxSeconds, isSearched), content, commandReader),
        maxSeconds,
      };
    }
  };
  return {
    survey: (task, bytes) => run("survey", task, bytes),
    prepare: (task, bytes, stop) => run("prepareUpload", task, bytes, stop),
    hash: (task, bytes) => run("hash", task, bytes),
    room,
    close: processes.close,
  };
}
