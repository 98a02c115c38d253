import type { Candidate, Comparison } from "../../6-report/comparison.js";
import type { CandidatePictures } from "../../6-report/pictures/candidate-pictures.js";
import type { Report } from "../../6-report/report.js";
import { sayLeftOut } from "../../6-report/words/left-out.js";
import { sayWarning } from "../../6-report/words/warnings.js";
import { libraryReader, type Reader } from "../../core/reader.js";
import { refusal } from "../../core/refusals/refusals.js";
import { type CompareOptions, checkCompareOptions, MAX_CANDIDATES } from "../../options/compare-options.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { givenIn } from "../../pipeline/describe/describe-piece.js";
import { inLanes, type LaneContext, type LaneWork } from "../lanes.js";
import { type CandidateAnswer, type CandidateSource, candidatesFrom } from "./candidate.js";
import { candidatesOf } from "./candidates.js";
import { closeUpOf } from "./close-up.js";
import type { CandidateFigures } from "./figures.js";
import { ofNoMethod, withoutUsefulElsewhere } from "./idle-everywhere.js";
import { recommend } from "./recommend.js";
import { winnersOf } from "./winners.js";

/** A finished candidate, with data that differ from run to run or are too large for a `Comparison`. */
export interface DoneCandidate {
  /** Its place among the candidates. */
  readonly index: number;
  readonly computingSeconds: number;
  readonly pictures?: CandidatePictures;
}

/** Context of `compare` beside its options. */
export interface CompareContext extends LaneContext {
  /** Shown in reports and in messages; never opened. */
  readonly fileName?: string;
  /** Who reads the warnings. Default: a programmer who calls the library. */
  readonly reader?: Reader;
  /** Called after each candidate with the number of finished candidates and of all. */
  readonly onProgress?: (done: number, all: number) => void;
  /** Called with each finished candidate, in any order. */
  readonly onCandidate?: (done: DoneCandidate) => void;
  /** Whether to make pictures of each candidate. */
  readonly pictures?: boolean;
}

/**
 * Prepare the same photo in several ways. The same code as in `prepare` computes the figures of each candidate. Several threads
 * work on the candidates; the figures are the same on one thread.
 *
 * @throws SpotpitchError with an `OPTION_*` code for a bad option, before any work; `INPUT_*` for a photo that cannot be used
 */
export async function compare(
  photo: Uint8Array,
  options: CompareOptions = {},
  context: CompareContext = {},
): Promise<Comparison> {
  const { fileName = "", reader = libraryReader, threads, curves, pictures = false } = context;
  const { onProgress, onCandidate } = context;
  const { asked, leftOut } = candidatesOf(checkCompareOptions(options));
  refuseTooMany(asked.length);
  const reports: Report[] = new Array(asked.length);
  const candidates: Candidate[] = new Array(asked.length);
  let done = 0;
  const work: LaneWork<CandidateSource, PrepareOptions, CandidateAnswer> = {
    begin: candidatesFrom,
    entry: new URL("./compare-worker.js", import.meta.url),
    data: { bytes: photo, fileName, ...(pictures && { closeUp: closeUpOf(asked) }) },
    costOf,
  };
  await inLanes(asked, work, { threads, curves }, ({ report, figures, ...rest }, index) => {
    reports[index] = report;
    // A reader cannot be sent to another thread, so warnings come back in the library's words.
    const warnings = report.warnings.map((warning) => sayWarning(ofNoMethod(warning), reader));
    candidates[index] = candidateOf({ ...report, warnings }, figures);
    onCandidate?.({ index, ...rest });
    onProgress?.(++done, asked.length);
  });
  const kept = candidates.map((candidate) => ({
    ...candidate,
    warnings: withoutUsefulElsewhere(candidate, candidates),
  }));
  const [{ tool, job }] = reports;
  const { speedMmPerS, accelerationMmPerS2 } = resolveOptions(asked[0]);
  return {
    tool,
    units: reader.units,
    photo: fileName,
    widthMm: job.widthMm,
    heightMm: job.heightMm,
    doseSpread: job.doseSpread,
    spread: job.spread,
    ...{ speedMmPerS, accelerationMmPerS2, assumed: job.assumed, ...givenIn(reader) },
    candidates: kept,
    leftOut: leftOut.map(({ misfit, ...what }) => ({ ...what, reason: sayLeftOut(misfit, reader) })),
    recommended: recommend(kept),
    ...winnersOf(kept),
  };
}

function refuseTooMany(count: number): void {
  if (count <= MAX_CANDIDATES) return;
  throw refusal(
    "too-many-candidates",
    { count, max: MAX_CANDIDATES },
    { received: count, allowed: `no more than ${MAX_CANDIDATES} candidates` },
  );
}

/** The halftone of dose feedback takes about as long as all the rest of a candidate. */
function costOf(options: PrepareOptions): number {
  const { pitch, method } = resolveOptions(options);
  return (method === "dose-feedback" ? 2 : 1) / (pitch.alongMm * pitch.acrossMm);
}

function candidateOf(report: Report, figures: CandidateFigures): Candidate {
  const { job, coverage, prediction, tonalResolution, runTime } = report;
  if (!prediction || !tonalResolution) throw refusal("nothing-predicted", {});
  const { method, linesPerInch, material, toneMap, levels, spotAlongMm, spotAcrossMm } = job;
  const { visualErrorRms, visualErrorBias, expectedVisualError, unevenness, toneShift } = prediction;
  const { seconds, beamOnSeconds } = runTime;
  return {
    ...{ method, linesPerInch, material, toneMap, levels, spotAlongMm, spotAcrossMm },
    ...{ visualErrorRms, visualErrorBias, expectedVisualError, unevenness, toneShift, tonalResolution },
    ...figures,
    burnFraction: coverage.burnFraction,
    ...{ seconds, beamOnSeconds },
    warnings: report.warnings,
    beamOnShare: seconds > 0 ? beamOnSeconds / seconds : 0,
  };
}
