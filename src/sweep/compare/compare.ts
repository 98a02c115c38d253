import { autoCandidates } from "../../4-halftone/candidates.js";
import { halftoneMethods } from "../../4-halftone/catalogue.js";
import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import type { Candidate, Comparison } from "../../6-report/comparison.js";
import type { CandidatePictures } from "../../6-report/pictures/candidate-pictures.js";
import type { Report } from "../../6-report/report.js";
import { type ErrorCode, SpotpitchError } from "../../core/errors.js";
import {
  type CompareOptions,
  checkCompareOptions,
  combinations,
  MOST_CANDIDATES,
} from "../../options/compare-options.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { type CurveStore, curveKey } from "../../pipeline/burn/burn-curve.js";
import { fittingMethod } from "../../pipeline/burn/choose-method.js";
import type { PrepareContext } from "../../pipeline/prepare.js";
import type { NamedCurve } from "./candidate.js";
import { candidatesOnLanes } from "./candidate-lanes.js";
import { closeUpOf } from "./close-up.js";
import type { CandidateFigures } from "./figures.js";
import { winnersOf } from "./winners.js";

/** One of each kind that differs in character: scattered, tuned by tone, by a mask, in clumps, on a screen, by account of the dose. */
const HANDFUL = [
  "floyd-steinberg",
  "ostromoukhov",
  "blue-noise",
  "green-noise",
  "clustered-dot",
  "dose-feedback",
];

const UNSUITABLE: readonly ErrorCode[] = ["OPTION_METHOD_GRID", "OPTION_METHOD_LEVELS"];

/** A candidate that is done, with what is not the same from run to run or too large for a `Comparison`. */
export interface DoneCandidate {
  /** Its place among the candidates. */
  readonly index: number;
  readonly computingSeconds: number;
  readonly pictures?: CandidatePictures;
}

/** What `compare` may be told beside its options. */
export interface CompareContext extends Omit<PrepareContext, "onProgress" | "threads"> {
  /** Threads to use, at most. Default: as many as the computer runs at once. */
  readonly threads?: number;
  /** Told after each candidate how many are done, of how many. */
  readonly onProgress?: (done: number, all: number) => void;
  /** Told of each candidate as it comes, in no certain order. */
  readonly onCandidate?: (done: DoneCandidate) => void;
  /** Whether pictures of each are wanted. */
  readonly pictures?: boolean;
}

/**
 * The same photo prepared in several ways: each candidate's figures are those of its `prepare` report, by the same code.
 * Candidates are worked out side by side on threads; the figures are the same on one.
 *
 * @throws SpotpitchError with an `OPTION_*` code for a bad option, before any work; `INPUT_*` for a photo that cannot be used
 */
export async function compare(
  photo: Uint8Array,
  options: CompareOptions = {},
  context: CompareContext = {},
): Promise<Comparison> {
  const { fileName = "", threads, curves, pictures = false, onProgress, onCandidate } = context;
  const asked = candidatesOf(checkCompareOptions(options));
  refuseTooMany(asked.length);
  const reports: Report[] = new Array(asked.length);
  const candidates: Candidate[] = new Array(asked.length);
  let done = 0;
  await candidatesOnLanes(
    asked.map((one) => ({ options: one, curves: knownCurves(one, curves) })),
    { bytes: photo, fileName, ...(pictures && { closeUp: closeUpOf(asked) }) },
    ({ report, figures, curves: measured, ...rest }, index) => {
      for (const [key, curve] of measured) curves?.set(key, curve);
      reports[index] = report;
      candidates[index] = candidateOf(report, figures);
      onCandidate?.({ index, ...rest });
      onProgress?.(++done, asked.length);
    },
    threads,
  );
  const [{ tool, job }] = reports;
  return {
    tool,
    photo: fileName,
    widthMm: job.widthMm,
    heightMm: job.heightMm,
    doseSpread: job.doseSpread,
    candidates,
    ...winnersOf(candidates, job.doseSpread),
  };
}

function refuseTooMany(count: number): void {
  if (count <= MOST_CANDIDATES) return;
  throw new SpotpitchError(
    "OPTION_TOO_LARGE",
    `These lists make ${count} candidates; at most ${MOST_CANDIDATES} are compared. Shorten one of them.`,
    { received: count, allowed: `at most ${MOST_CANDIDATES} candidates` },
  );
}

/** What a store knows of the curves that a candidate may need. */
function knownCurves(options: PrepareOptions, store: CurveStore | undefined): NamedCurve[] {
  if (!store) return [];
  const resolved = resolveOptions(options);
  const methods = resolved.method === "auto" ? autoCandidates : [resolved.method];
  return methods.flatMap((id) => {
    const key = curveKey(findHalftoneMethod(id), resolved);
    const curve = store.get(key);
    return curve ? [[key, curve]] : [];
  });
}

function candidatesOf(options: CompareOptions) {
  const named = [options.method ?? HANDFUL].flat();
  const all = named.includes("all");
  const chosenHere = all || options.method === undefined;
  const methods = all ? halftoneMethods.map(({ id }) => id) : named;
  return combinations(options, methods).filter((one) => {
    const resolved = resolveOptions(one);
    if (resolved.method === "auto") return true;
    try {
      fittingMethod(resolved.method, resolved);
      return true;
    } catch (error) {
      // Of methods that nobody named, those that suit grid and levels.
      if (chosenHere && error instanceof SpotpitchError && UNSUITABLE.includes(error.code)) return false;
      throw error;
    }
  });
}

function candidateOf(report: Report, figures: CandidateFigures): Candidate {
  const { job, coverage, prediction, tonalResolution, runTime } = report;
  if (!prediction || !tonalResolution) throw new SpotpitchError("INTERNAL", "Nothing was predicted.");
  const { seconds, beamOnSeconds } = runTime;
  return {
    method: job.method,
    linesPerInch: job.linesPerInch,
    material: job.material,
    toneMap: job.toneMap,
    levels: job.levels,
    spotAlongMm: job.spotAlongMm,
    spotAcrossMm: job.spotAcrossMm,
    visualErrorRms: prediction.visualErrorRms,
    visualErrorBias: prediction.visualErrorBias,
    expectedVisualError: prediction.expectedVisualError,
    tonalResolution,
    ...figures,
    burnFraction: coverage.burnFraction,
    seconds,
    beamOnSeconds,
    warnings: report.warnings,
    beamOnShare: seconds > 0 ? beamOnSeconds / seconds : 0,
  };
}
