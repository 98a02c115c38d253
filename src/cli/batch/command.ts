import { mkdirSync, rmSync } from "node:fs";
import { availableParallelism, totalmem } from "node:os";
import { join, resolve } from "node:path";
import { isDynamicPattern } from "tinyglobby";
import { batchSettings } from "../../batch/batch-options.js";
import { SpotpitchError } from "../../core/errors.js";
import { commandOptions } from "../flags.js";
import { checkFolder, reasonOf } from "../output-files.js";
import { createRestTime } from "../progress.js";
import { readOptions } from "../read-options.js";
import { findUploads, readFileList, type Upload } from "./inputs.js";
import { bindJobs } from "./jobs.js";
import { openLedger } from "./ledger.js";
import { lock } from "./lock.js";
import { batchJson, writePages } from "./pages.js";
import { runPass, type Verdict } from "./pass.js";
import { openPool } from "./pool.js";
import { readSheet, sheetUploads } from "./sheet.js";
import { batchSummary } from "./summary.js";
import { watchUploads } from "./watch.js";

export interface BatchRequest {
  readonly inputs: readonly string[];
  readonly out: string | undefined;
  readonly config: string | undefined;
  readonly json: boolean;
  readonly typed: ReadonlyMap<string, string | boolean>;
  readonly sheet: string | undefined;
  /** A text file with a path on each line. */
  readonly list: string | undefined;
  readonly recursive: boolean;
  readonly watch: boolean;
}

/** Exit status where some uploads were refused. */
const SOME_REFUSED = 4;
/** 128 and the signal's number, as shells count. */
const STOPPED = { SIGINT: 130, SIGTERM: 143 } as const;

/** `spotpitch batch`: find the uploads, prepare or refuse each, write the lists. Returns the exit status. */
export async function batchCommand(request: BatchRequest): Promise<number> {
  const asked = await readOptions(commandOptions.batch, request.typed, request.config);
  const settings = batchSettings(asked.options, availableParallelism(), totalmem());
  const out = resolve(request.out ?? asked.out ?? "batch");
  const rows = request.sheet === undefined ? [] : await readSheet(request.sheet);
  const inputs = [...request.inputs, ...(request.list === undefined ? [] : await readFileList(request.list))];
  if (inputs.length === 0 && request.sheet === undefined) {
    throw new SpotpitchError("OPTION_INVALID", "Give a folder, files or a job sheet: batch got none.");
  }
  const ownFiles = [request.sheet, request.list, request.config].filter((file) => file !== undefined);
  const find = async (): Promise<Upload[]> =>
    inputs.length > 0
      ? findUploads(inputs, request.recursive, out, ownFiles)
      : sheetUploads(request.sheet ?? "", rows);
  if (!request.watch && inputs.some((input) => isDynamicPattern(input)) && (await find()).length === 0) {
    throw new SpotpitchError(
      "INPUT_MISSING",
      `No file matches ${inputs.map((input) => `"${input}"`).join(", ")}.`,
    );
  }
  const bind = (uploads: readonly Upload[]) =>
    bindJobs({ uploads, rows, typed: request.typed, config: request.config, settings });
  // What is wrong with the request is told before anything is written.
  const first = await bind(await find());
  await checkFolder(out);

  const hidden = join(out, ".spotpitch");
  const work = join(hidden, "unfinished");
  const unlock = begin(hidden, out);
  const stop = new AbortController();
  const onSignal = (name: keyof typeof STOPPED): void => stop.abort(name);
  process.once("SIGINT", onSignal).once("SIGTERM", onSignal);
  const pool = openPool(settings.workers, stop.signal);
  const progress = createRestTime(process.stderr);
  let verdicts: Verdict[] = [];
  const run = async ({ jobs, unfit }: typeof first): Promise<void> => {
    rmSync(work, { recursive: true, force: true });
    mkdirSync(work);
    progress.start();
    const context = { out, work, ledger: openLedger(join(hidden, "ledger")), pool, settings };
    verdicts = await runPass(jobs, unfit, { ...context, onProgress: progress.show });
    await writePages(verdicts, out, work);
    rmSync(work, { recursive: true, force: true });
    progress.clear();
  };
  const tell = (): void => {
    process.stdout.write(request.json ? batchJson(verdicts) : batchSummary(verdicts, out));
  };
  try {
    if (!request.watch) {
      await run(first);
      tell();
      return verdicts.some(({ entry }) => entry.state === "refused") ? SOME_REFUSED : 0;
    }
    process.stderr.write("Watching for uploads; Ctrl-C ends it.\n");
    await watchUploads(
      find,
      async (uploads) => {
        await run(await bind(uploads));
        tell();
      },
      stop.signal,
    );
    return 0;
  } catch (error) {
    if (!stop.signal.aborted) throw asOutputFailure(error, out);
    progress.clear();
    if (request.watch) return 0;
    process.stderr.write(
      "spotpitch: stopped. What is finished stays; the same command goes on from there.\n",
    );
    return STOPPED[stop.signal.reason as keyof typeof STOPPED];
  } finally {
    progress.clear();
    await pool.close();
    rmSync(work, { recursive: true, force: true });
    unlock();
    process.off("SIGINT", onSignal).off("SIGTERM", onSignal);
  }
}

/** Make the folder of the run's own and lock it. Returns what unlocks it. */
function begin(hidden: string, out: string): () => void {
  try {
    mkdirSync(hidden, { recursive: true });
    return lock(join(hidden, "lock"));
  } catch (error) {
    throw asOutputFailure(error, out);
  }
}

/** Files are written in a hidden folder first, and earlier ones stay: the message names the folder that the user gave, and says so. */
function asOutputFailure(failure: unknown, out: string): unknown {
  const told = failure instanceof SpotpitchError && failure.code === "OUTPUT_UNWRITABLE";
  const error = told ? failure.cause : failure;
  if (!(error instanceof Error && "syscall" in error)) return failure;
  return new SpotpitchError(
    "OUTPUT_UNWRITABLE",
    `Cannot write to "${out}": ${reasonOf(error)}. What is finished stays. Fix that, then run the same command to continue.`,
    { option: "out", received: out, cause: error },
  );
}
