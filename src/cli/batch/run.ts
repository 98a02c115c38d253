import { mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import type { BatchSettings } from "../../batch/batch-options.js";
import type { CustomerTexts } from "../../batch/customer-note.js";
import { listedVerdicts, type PassResult } from "../../batch/lists.js";
import type { Ground } from "../../board/lay-boards.js";
import { openDecisions } from "../desk/decision-files.js";
import { createRestTime } from "../progress.js";
import { openBoards } from "./boards.js";
import type { BoundJobs } from "./jobs.js";
import { layPrepared } from "./lay-pieces.js";
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
  /** Prepare or refuse every upload, lay the boards and write the lists. */
  readonly pass: (bound: BoundJobs) => Promise<PassResult>;
  /** Aborted by Ctrl-C, with the exit status as its reason. */
  readonly stopped: AbortSignal;
  readonly close: () => Promise<void>;
}

interface RunRequest {
  readonly out: string;
  readonly settings: BatchSettings;
  /** To customers; undefined for the English ones. */
  readonly words: CustomerTexts | undefined;
  /** On what the pieces are laid. */
  readonly ground: Ground | undefined;
}

/** Lock the output folder and start the workers. Throws `OUTPUT_BUSY` and the system's own errors. */
export function openRun({ out, settings, words, ground }: RunRequest): Run {
  const hidden = join(out, ".spotpitch");
  const work = join(hidden, "unfinished");
  mkdirSync(hidden, { recursive: true });
  const unlock = lock(join(hidden, "lock"));
  const stop = new AbortController();
  const onSignal = (name: keyof typeof EXIT_STATUS): void => stop.abort(EXIT_STATUS[name]);
  process.once("SIGINT", onSignal).once("SIGTERM", onSignal);
  const pool = openPool(settings.workers, stop.signal);
  const progress = createRestTime(process.stderr);
  const clearWork = (): void => rmSync(work, { recursive: true, force: true });

  const pass = async (bound: BoundJobs): Promise<PassResult> => {
    clearWork();
    mkdirSync(work);
    progress.start();
    const ledger = openLedger(join(hidden, "ledger"));
    const boards = openBoards(out, join(hidden, "boards.json"), work);
    const settle = createSettle(out, ledger, boards.withdraw);
    const tools = { settle, withdrawBoards: boards.withdraw, pool, onProgress: progress.show };
    const context = { out, work, ledger, settings, ...tools };
    try {
      const decisions = openDecisions(out).read();
      const verdicts = listedVerdicts(await runPass(bound, context), decisions, words);
      const laid = ground && (await layPrepared(verdicts, bound.jobs, ground, { ...context, boards }));
      await writePages({ verdicts, laid }, out, work);
      clearWork();
      return { verdicts, laid };
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
