/**
 * A worker process of a batch. It is a process and not a thread: a file that crashes the decoder ends this process alone, and one
 * that never ends can be stopped.
 */
import type { Prepared, Refusal } from "../../batch/outcome.js";
import { SpotpitchError } from "../../core/errors.js";
import { createMemoryWatch, type MemoryLimit } from "../../workers/memory-limit.js";
import * as job from "./upload-job.js";

// The command decides when to stop. A worker whose command has died must not outlive it.
process.on("SIGINT", () => {});
process.on("disconnect", () => process.exit(1));
const parent = process.ppid;
const exitIfOrphaned = (): void => {
  if (process.ppid !== parent) process.exit(1);
};
const within = createMemoryWatch();

/** A task and the memory that the process may hold meanwhile. */
export type Limited<Task> = Task & { readonly memory: MemoryLimit };

/** Answered once a process has started. */
export const ready = (): void => {};

export const survey = ({ memory, ...task }: Limited<job.SurveyTask>): Promise<job.Survey> =>
  within(memory, () => job.surveyUpload(task));

export const hash = ({ memory, ...task }: Limited<job.SurveyTask>): Promise<job.Hashed> =>
  within(memory, () => job.hashUpload(task));

export const prepareUpload = ({ memory, ...task }: Limited<job.PrepareTask>): Promise<Prepared | Refusal> =>
  within(memory, async () => {
    try {
      return await job.prepareUpload(task, exitIfOrphaned);
    } catch (error) {
      // Causes do not cross from process to process, and the command needs the system's own error.
      throw error instanceof SpotpitchError && error.code === "OUTPUT_UNWRITABLE"
        ? (error.cause ?? error)
        : error;
    }
  });
