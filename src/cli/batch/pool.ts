import { Tinypool } from "tinypool";
import type { Prepared, Refusal } from "../../batch/outcome.js";
import { type ErrorCode, SpotpitchError } from "../../core/errors.js";
import type { PrepareTask, Survey, SurveyTask } from "./upload-job.js";

/** Worker processes that survey uploads and prepare them. */
export interface Pool {
  readonly survey: (task: SurveyTask) => Promise<Survey>;
  readonly prepare: (task: PrepareTask) => Promise<Prepared | Refusal>;
  /** Stop all at once. */
  readonly close: () => Promise<void>;
}

export function openPool(workers: number, signal: AbortSignal): Pool {
  const pool = new Tinypool({
    filename: new URL("./batch-worker.js", import.meta.url).href,
    runtime: "child_process",
    serialization: "advanced",
    minThreads: workers,
    maxThreads: workers,
    env: { ...process.env } as Record<string, string>,
  });
  // The pool replaces an idle worker that dies. Where a busy one dies, its task fails.
  pool.on("error", () => {});
  const run = async <T>(name: string, task: SurveyTask | PrepareTask): Promise<T | Refusal> => {
    const { upload, limits } = task;
    const late = AbortSignal.timeout(1000 * limits.maxSeconds);
    try {
      return await pool.run(task, { name, signal: AbortSignal.any([late, signal]) });
    } catch (error) {
      signal.throwIfAborted();
      if (late.aborted) {
        return demanding(`"${upload.id}" takes longer than ${limits.maxSeconds} s (--max-seconds).`);
      }
      if (error instanceof Error && /exited unexpectedly/.test(error.message)) {
        return demanding(`"${upload.id}": the worker crashed: a malicious file, or out of memory.`);
      }
      throw asTold(error);
    }
  };
  return {
    survey: (task) => run("survey", task),
    prepare: (task) => run("prepareUpload", task),
    close: () => pool.destroy().catch(() => {}),
  };
}

const demanding = (message: string): Refusal => ({ refused: { code: "INPUT_TOO_DEMANDING", message } });

/** Errors cross from a process as plain objects. */
function asTold(error: unknown): Error {
  const { code, message } = error as { readonly code?: unknown; readonly message?: unknown };
  if (typeof code === "string" && /^(OUTPUT_|INTERNAL)/.test(code)) {
    return new SpotpitchError(code as ErrorCode, String(message), { cause: error });
  }
  return error instanceof Error ? error : Object.assign(new Error(String(message ?? error)), error);
}
