import { boardSummary } from "../../batch/board-summary.js";
import type { Verdict } from "../../batch/lists.js";
import { batchJson, batchSummary } from "../../batch/lists.js";
import { SpotpitchError } from "../../core/errors.js";
import { checkFolder, reasonOf } from "../output-files.js";
import { refused } from "../refusals.js";
import { print, tell } from "../terminal.js";
import type { Upload } from "./inputs.js";
import type { BoundJobs } from "./jobs.js";
import { type Batch, type BatchRequest, readRequest } from "./request.js";
import { openRun } from "./run.js";
import { stillArriving, watchUploads } from "./watch.js";

/** Exit status if some uploads were refused, or wait for a row of the job sheet. */
const SOME_NOT_PREPARED = 4;

/** `spotpitch batch`: find the uploads, prepare or refuse each, write the lists. Returns the exit status. */
export async function batchCommand(request: BatchRequest): Promise<number> {
  const batch = await readRequest(request);
  // A wrong request is refused before anything is written.
  const first = await batch.bind(await batch.find());
  await checkFolder(batch.out);
  try {
    return await workOn(batch, first, request);
  } catch (error) {
    throw asOutputFailure(error, batch.out);
  }
}

async function workOn(batch: Batch, first: BoundJobs, { watch, json }: BatchRequest): Promise<number> {
  const run = await openRun(batch);
  const pass = async (bound: BoundJobs): Promise<readonly Verdict[]> => {
    const result = await run.pass(bound);
    const { verdicts, laid } = result;
    print(json ? batchJson(result) : boardSummary(laid) + batchSummary(verdicts, batch.out));
    return verdicts;
  };
  try {
    if (watch) {
      tell("Watching for uploads; Ctrl-C ends it.\n");
      const take = async (each: readonly Upload[]): Promise<string[]> =>
        stillArriving(each, await pass(await batch.bind(each)));
      return await watchUploads({ ...batch, take }, run.stopped);
    }
    const verdicts = await pass(first);
    const isOpen = ({ entry }: Verdict): boolean => entry.state === "refused" || entry.state === "waiting";
    return !verdicts.some(isOpen) ? 0 : SOME_NOT_PREPARED;
  } catch (error) {
    if (!run.stopped.aborted) throw error;
    if (watch) return 0;
    tell("spotpitch: stopped. Finished files stay. Run the same command to continue.\n");
    return run.stopped.reason;
  } finally {
    await run.close();
  }
}

/**
 * The error to show if the system refused a file. Files are written in a hidden folder first, so the message names the folder
 * that the user gave.
 */
function asOutputFailure(failure: unknown, out: string): unknown {
  const isOutputFailure = failure instanceof SpotpitchError && failure.code === "OUTPUT_UNWRITABLE";
  const error = isOutputFailure ? failure.cause : failure;
  if (!(error instanceof Error && "syscall" in error)) return failure;
  const remains = "Finished files stay. Fix that, then run the same command to continue.";
  return refused.unwritable(out, reasonOf(error), remains, error);
}
