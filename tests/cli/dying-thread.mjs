/** Loaded into every thread of the command: one that is asked for work ends without an answer, as `THREADS_END_BY` says. */
import { isMainThread, parentPort } from "node:worker_threads";

if (!isMainThread) {
  parentPort?.on("message", () => {
    if (process.env.THREADS_END_BY === "error") throw new Error("The thread fell over.");
    process.exit(3);
  });
}
