import { availableParallelism, hostname, totalmem } from "node:os";
import { shareOf } from "../../batch/batch-options.js";
import { visible } from "../../core/words.js";
import { openPool } from "../batch/pool.js";
import { commandOptions } from "../flags.js";
import { readOptions } from "../read-options.js";
import { print, tell } from "../terminal.js";
import { type Meeting, meet } from "./meeting.js";
import { createMemoryGate } from "./memory-gate.js";
import { refusedQueue } from "./refusals.js";
import { lookAtQueue, queueWords } from "./show.js";
import { type Taking, takeJobs } from "./take-jobs.js";
import { openWorkFolder } from "./work-folder.js";

/** The command line of `spotpitch worker`. */
export interface WorkerRequest {
  readonly typed: ReadonlyMap<string, string | boolean>;
  readonly config: string | undefined;
  /** Only look at the queue. */
  readonly show: boolean;
  readonly json: boolean;
}

const note = (words: string): void => tell(`spotpitch: ${visible(words)}\n`);

/** `spotpitch worker`: take jobs of batches from a queue until Ctrl-C. */
export async function workerCommand({ typed, config, show, json }: WorkerRequest): Promise<void> {
  const { options } = await readOptions(commandOptions.worker, typed, { config, machine: false });
  const { queue, store, queueLogin: login, lostAfterS = 30 } = options;
  if (queue === undefined) throw refusedQueue.noQueue();
  const meeting = await meet({ queue, store, login }, note);
  try {
    if (show) {
      const seen = await lookAtQueue(meeting);
      print(json ? `${JSON.stringify(seen)}\n` : queueWords(seen));
      return;
    }
    const share = shareOf(options, availableParallelism(), totalmem());
    const counts = await takeUntilStopped(meeting, share, 1000 * lostAfterS);
    print(json ? `${JSON.stringify(counts)}\n` : countWords(counts));
  } finally {
    meeting.close();
  }
}

async function takeUntilStopped(
  meeting: Meeting,
  { workers, jobBytes }: ReturnType<typeof shareOf>,
  lostAfterMs: number,
): Promise<Taking["counts"]> {
  const folder = openWorkFolder();
  const end = new AbortController();
  const pool = openPool({ workers, jobBytes }, folder.path, end.signal);
  const { store, release } = meeting;
  const shop = { store, pool, gate: createMemoryGate(jobBytes), folder: folder.path, release };
  const self = { host: hostname(), process: process.pid, release, store: store.identity };
  const taking = takeJobs(meeting, shop, { jobs: workers, lostAfterMs, self, note });
  note(`Takes jobs from ${meeting.address}, ${workers} at a time, as ${release}; Ctrl-C ends it.`);
  try {
    await signalled();
    note(
      "Ends when the jobs that are begun are done. Ctrl-C once more ends it at once; others take them over.",
    );
    await Promise.race([taking.close(), signalled().then(taking.abandon)]);
    return taking.counts;
  } finally {
    end.abort();
    await pool.close();
    folder.remove();
  }
}

const signalled = (): Promise<void> =>
  new Promise((end) => {
    const onSignal = (): void => {
      process.off("SIGINT", onSignal).off("SIGTERM", onSignal);
      end();
    };
    process.on("SIGINT", onSignal).on("SIGTERM", onSignal);
  });

const countWords = ({ done, failed, givenUp }: Taking["counts"]): string =>
  `done          ${done}\nfailed        ${failed}\ngiven up      ${givenUp}\n`;
