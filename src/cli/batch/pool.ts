import { type Prepared, type Refusal, refusalOf } from "../../batch/outcome.js";
import { WorkerDied } from "../../workers/link.js";
import { openProcesses } from "../../workers/processes.js";
import { commandReader } from "../command-reader.js";
import type { PrepareTask, Survey, SurveyTask } from "./upload-job.js";
import { refusedUpload } from "./upload-refusals.js";

/** Worker processes that survey uploads and prepare them. */
export interface Pool {
  readonly survey: (task: SurveyTask) => Promise<Survey>;
  readonly prepare: (task: PrepareTask) => Promise<Prepared | Refusal>;
  /** Stop all processes immediately. */
  readonly close: () => Promise<void>;
}

export function openPool(workers: number, signal: AbortSignal): Pool {
  const processes = openProcesses(new URL("./batch-worker.js", import.meta.url), workers);
  const run = async <T>(name: string, task: SurveyTask | PrepareTask): Promise<T | Refusal> => {
    const { upload, limits } = task;
    const late = AbortSignal.timeout(1000 * limits.maxSeconds);
    try {
      return await processes.call<T>(name, task, AbortSignal.any([late, signal]));
    } catch (error) {
      signal.throwIfAborted();
      if (!late.aborted && !(error instanceof WorkerDied)) throw error;
      const reason = late.aborted
        ? refusedUpload.tooSlow(upload.id, limits.maxSeconds)
        : refusedUpload.workerCrashed(upload.id);
      return refusalOf(reason, undefined, commandReader);
    }
  };
  return {
    survey: (task) => run("survey", task),
    prepare: (task) => run("prepareUpload", task),
    close: processes.close,
  };
}
