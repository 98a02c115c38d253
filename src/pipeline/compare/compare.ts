import { halftoneMethods } from "../../4-halftone/catalogue.js";
import type { Candidate, Comparison } from "../../6-report/comparison.js";
import type { Report } from "../../6-report/report.js";
import { type CompareOptions, checkCompareOptions, combinations } from "../../core/compare-options.js";
import { type ErrorCode, SpotpitchError } from "../../core/errors.js";
import { resolveOptions } from "../../core/options.js";
import { fittingMethod } from "../choose-method.js";
import { type PrepareContext, prepareTo } from "../prepare.js";

/** One of each kind that differs in character: scattered, tuned by tone, by a mask, in clumps, on a screen. */
const HANDFUL = ["floyd-steinberg", "ostromoukhov", "blue-noise", "green-noise", "clustered-dot"];

const UNSUITABLE: readonly ErrorCode[] = ["OPTION_METHOD_GRID", "OPTION_METHOD_LEVELS"];

export interface CompareContext extends Omit<PrepareContext, "onProgress"> {
  /** Told after each candidate how many are done, of how many. */
  readonly onProgress?: (done: number, all: number) => void;
}

/**
 * The same photo prepared in several ways: each candidate's figures are those of its `prepare` report, by the same code.
 *
 * @throws SpotpitchError with an `OPTION_*` code for a bad option, before any work; `INPUT_*` for a photo that cannot be used
 */
export async function compare(
  photo: Uint8Array,
  options: CompareOptions = {},
  { onProgress, ...context }: CompareContext = {},
): Promise<Comparison> {
  const asked = candidatesOf(checkCompareOptions(options));
  const reports: Report[] = [];
  for (const one of asked) {
    reports.push(await prepareTo(photo, one, { burn: () => {}, preview: () => {} }, context));
    onProgress?.(reports.length, asked.length);
  }
  const candidates = reports.map(candidateOf);
  const { tool, job } = reports[0];
  return {
    tool,
    photo: context.fileName ?? "",
    widthMm: job.widthMm,
    heightMm: job.heightMm,
    doseSpread: job.doseSpread,
    candidates,
    winners: {
      nominal: leastBy(candidates, ({ visualErrorRms }) => visualErrorRms),
      robust: leastBy(candidates, ({ expectedVisualError }) => expectedVisualError),
      fast: fastest(candidates),
    },
  };
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

function candidateOf({ job, coverage, prediction, tonalResolution, runTime }: Report): Candidate {
  if (!prediction || !tonalResolution) throw new SpotpitchError("INTERNAL", "Nothing was predicted.");
  const { seconds, beamOnSeconds } = runTime;
  return {
    method: job.method,
    linesPerInch: job.linesPerInch,
    material: job.material,
    toneMap: job.toneMap,
    spotAlongMm: job.spotAlongMm,
    spotAcrossMm: job.spotAcrossMm,
    visualErrorRms: prediction.visualErrorRms,
    visualErrorBias: prediction.visualErrorBias,
    expectedVisualError: prediction.expectedVisualError,
    tonalResolution,
    burnFraction: coverage.burnFraction,
    seconds,
    beamOnSeconds,
    beamOnShare: seconds > 0 ? beamOnSeconds / seconds : 0,
  };
}

/** Index of the first candidate with the least of something. */
function leastBy(candidates: readonly Candidate[], of: (candidate: Candidate) => number): number {
  return candidates.reduce((best, one, k) => (of(one) < of(candidates[best]) ? k : best), 0);
}

/** Nobody waits for less: run times of this ratio are equal, and the least expected error decides. */
const AS_FAST = 1.01;

function fastest(candidates: readonly Candidate[]): number {
  const limit = AS_FAST * Math.min(...candidates.map(({ seconds }) => seconds));
  return leastBy(candidates, (one) => (one.seconds <= limit ? one.expectedVisualError : Infinity));
}
