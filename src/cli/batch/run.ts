import { mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import type { BatchSettings } from "../../batch/batch-options.js";
import type { BoardVerdicts } from "../../batch/board-records.js";
import type { CustomerTexts } from "../../batch/customer-note.js";
import { listedVerdicts, type PassResult, type Verdict } from "../../batch/lists.js";
import type { QueueSettings } from "../../batch/queue-options.js";
import type { Ground } from "../../board/lay-boards.js";
import { openDecisions } from "../desk/decision-files.js";
import { createRestTime } from "../progress.js";
import { type BoardFolder, openBoards } from "./boards.js";
import { withEarlier } from "./earlier-verdicts.js";
import type { BoundJobs } from "./jobs.js";
import { layPrepared } from "./lay-pieces.js";
import { openLedger } from "./ledger.js";
import { lock } from "./lock.js";
import { createSettle } from "./output-folder.js";
import { writePages } from "./pages.js";
import { pagesSoFar } from "./pages-so-far.js";
import { runPass } from "./pass.js";
import { openPool, type Pool, type Preparing } from "./pool.js";

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

/** Boards that an earlier run has laid still show their pieces, although this run was not asked for any. */
async function standingBoards({ standing }: BoardFolder): Promise<BoardVerdicts | undefined> {
  const boards = await standing();
  return boards.length > 0 ? { boards, notLaid: [] } : undefined;
}

interface RunRequest {
  readonly out: string;
  readonly settings: BatchSettings;
  /** To customers; undefined for the English ones. */
  readonly words: CustomerTexts | undefined;
  /** On what the pieces are laid. */
  readonly ground: Ground | undefined;
}

async function lockFolder(hidden: string): Promise<() => void> {
  mkdirSync(hidden, { recursive: true });
  return lock(join(hidden, "lock"));
}

/** The processes of this computer. With a queue they only survey the uploads, and others prepare them. */
function poolOf(local: Pool, queued: Preparing | undefined): Pool {
  const close = async (): Promise<void> => void (await Promise.all([local.close(), queued?.close()]));
  return { ...local, ...queued, close };
}

/** A part of the command that is loaded only for it. */
async function openQueue(settings: QueueSettings, jobBytes: number, stop: AbortSignal): Promise<Preparing> {
  const { openQueuePool } = await import("../queue/queue-pool.js");
  return openQueuePool(settings, jobBytes, stop);
}

/**
 * Lock the output folder and start the workers. Throws `OUTPUT_BUSY`, the system's own errors, and with a queue `OPTION_INVALID`,
 * `INPUT_*` and `QUEUE_UNREACHABLE`.
 */
export async function openRun({ out, settings, words, ground }: RunRequest): Promise<Run> {
  const hidden = join(out, ".spotpitch");
  const work = join(hidden, "unfinished");
  const stop = new AbortController();
  const onSignal = (name: keyof typeof EXIT_STATUS): void => stop.abort(EXIT_STATUS[name]);
  process.once("SIGINT", onSignal).once("SIGTERM", onSignal);
  // What cannot be reached is told before anything is written.
  const queued = settings.queue && (await openQueue(settings.queue, settings.jobBytes, stop.signal));
  const unlock = await lockFolder(hidden).catch(async (error) => {
    await queued?.close();
    throw error;
  });
  const pool = poolOf(openPool(settings, work, stop.signal), queued);
  const progress = createRestTime(process.stderr);
  const clearWork = (): void => rmSync(work, { recursive: true, force: true });

  const pass = async (bound: BoundJobs): Promise<PassResult> => {
    clearWork();
    mkdirSync(work);
    progress.start();
    const ledger = openLedger(join(hidden, "ledger"));
    const boards = openBoards(out, join(hidden, "boards.json"), work);
    const settle = createSettle(out, ledger, boards.withdraw);
    const list = (verdicts: readonly Verdict[]) => listedVerdicts(verdicts, openDecisions(out).read(), words);
    const soFar = pagesSoFar((found) => {
      const { verdicts, remaining } = withEarlier(found, bound, ledger);
      return writePages({ verdicts: list(verdicts), remaining }, out, work);
    });
    const tools = { settle, withdrawBoards: boards.withdraw, pool, onVerdict: soFar.add };
    const context = { out, work, ledger, settings, onProgress: progress.show, ...tools };
    try {
      const verdicts = list(await runPass(bound, context));
      await soFar.atRest();
      // The lists of the pieces do not depend on boards that cannot be made.
      await writePages({ verdicts }, out, work);
      const laying = { ...context, boards, signal: stop.signal };
      const laid = ground
        ? await layPrepared(verdicts, bound.jobs, ground, laying)
        : await standingBoards(boards);
      if (laid) await writePages({ verdicts, laid }, out, work);
      clearWork();
      return { verdicts, laid };
    } catch (error) {
      // Makes room on a full disk.
      clearWork();
      await soFar.giveUp();
      throw error;
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
