import { mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import type { BatchSettings } from "../../batch/batch-options.js";
import type { Verdict } from "../../batch/lists.js";
import { createRestTime } from "../progress.js";
import type { BoundJobs } from "./jobs.js";
import { openLedger } from "./ledger.js";
import { lock } from "./lock.js";
import { createSettle } from "./output-folder.js";
import { writePages } from "./pages.js";
import { runPass } from "./pass.js";
import { openPool } from "./pool.js";

/** 128 plus the signal's number, as in shells. */
const EXIT_STATUS = { SIGINT: 130, SIGTERM: 143 } as const;

/** The locked folder and the worker processes of a batch, from the first pass to the last. */
export interface Run {
  /** Prepare or refuse every upload and write the lists. */
  readonly pass: (bound: BoundJobs) => Promise<Verdict[]>;
  /** Aborted by Ctrl-C, with the exit status as its reason. */
  readonly stopped: AbortSignal;
  readonly close: () => Promise<void>;
}

/** Lock the output folder and start the workers. Throws `OUTPUT_BUSY` and the system's own errors. */
export function openRun(out: string, settings: BatchSettings): Run {
  const hidden = join(out, ".spotpitch");
  const work = join(hidden, "unfinished");
  mkdirSync(hidden, { recursive: true });
  const unlock = lock(join(hidden, "lock"));
  const stop = new AbortController();
  const onSignal = (name: keyof typeof EXIT_STATUS): void => stop.abort(EXIT_STATUS[name]);
  process.once("SIGINT", onSignal).once("SIGTERM", onSignal);
  const pool = openPool(settings.workers, work, stop.signal);
  const progress = createRestTime(process.stderr);
  const clearWork = (): void => rmSync(work, { recursive: true, force: true });

  const pass = async (bound: BoundJobs): Promise<Verdict[]> => {
    clearWork();
    mkdirSync(work);
    progress.start();
    const ledger = openLedger(join(hidden, "ledger"));
    const settle = createSettle(out, ledger);
    const context = { out, work, ledger, settle, pool, settings, onProgress: progress.show };
    try {
      const verdicts = await runPass(bound, context);
      await writePages(verdicts, out, work);
      clearWork();
      return verdicts;
    } finally {
      progress.clear();
    }
  };
  const close = async (): Promise<void> => {
    await pool.close();
    clearWork();
    unlock();
    process.off("SIGINT", onSignal).off("SIGTERM", onSignal);
  };
  return { pass, stopped: stop.signal, close };
}
