import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import { MAX_LINES_PER_INCH, MIN_LINES_PER_INCH } from "../../core/density-limits.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { misfitOf } from "../../pipeline/burn/choose-method.js";
import { withoutPicture } from "./density-trial.js";

/**
 * Tried multiples of the matched density, evenly spaced in their logarithm. What is recommended for itself lies a doubling below
 * the last: no more than three times the matched density.
 */
const FROM = 0.7;
const TO = 6;
const COUNT = 10;

/** With fewer densities than this the bend cannot be told from noise. */
const MIN_COUNT = 4;

/**
 * Trials for jobs that differ only in their density, by rising density. They do not depend on the densities that the user
 * compares, so that any list of them tells the same story. Only a method that fits few grids is tried at the user's own densities.
 */
export function trialsFor(jobs: readonly PrepareOptions[]): readonly PrepareOptions[] {
  const own = jobs.map(withoutPicture);
  const { spot } = resolveOptions(own[0]);
  const matched = linesPerInchFromPitchMm(spot.acrossMm);
  const wanted = Array.from({ length: COUNT }, (_, k) => matched * FROM * (TO / FROM) ** (k / (COUNT - 1)));
  const within = wanted.map((density) => Math.min(MAX_LINES_PER_INCH, Math.max(MIN_LINES_PER_INCH, density)));
  const tried = [...new Set(within)].map((linesPerInch) => ({ ...own[0], linesPerInch })).filter(fits);
  return tried.length < MIN_COUNT ? own : tried;
}

function fits(options: PrepareOptions): boolean {
  const resolved = resolveOptions(options);
  return resolved.method === "auto" || !misfitOf(findHalftoneMethod(resolved.method), resolved);
}
