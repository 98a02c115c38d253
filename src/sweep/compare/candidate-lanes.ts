import { Worker } from "node:worker_threads";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { inLanes, laneCount } from "../lanes.js";
import {
  type CandidateAnswer,
  type CandidateRequest,
  type CandidateSource,
  candidatesFrom,
} from "./candidate.js";

/** A single candidate is spread over the threads that there are; several have one each. */
export function candidatesOnLanes(
  requests: readonly CandidateRequest[],
  source: Omit<CandidateSource, "threads">,
  onAnswer: (answer: CandidateAnswer, index: number) => void,
  threads?: number,
): Promise<void> {
  const workerData: CandidateSource =
    laneCount(requests.length, threads) > 1
      ? { ...source, threads: 1 }
      : { ...source, ...(threads !== undefined && { threads }) };
  return inLanes(
    requests,
    {
      begin: () => candidatesFrom(workerData),
      start: () => new Worker(new URL("./compare-worker.js", import.meta.url), { workerData }),
      costOf: ({ options }) => costOf(options),
    },
    onAnswer,
    threads,
  );
}

/** Dose feedback takes about as long for its halftone as all the rest of a candidate. */
function costOf(options: PrepareOptions): number {
  const { pitch, method } = resolveOptions(options);
  return (method === "dose-feedback" ? 2 : 1) / (pitch.alongMm * pitch.acrossMm);
}
