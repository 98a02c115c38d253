import { findHalftoneMethod } from "../4-halftone/halftone.js";
import type { HalftoneMethod } from "../4-halftone/method.js";
import { visualErrors } from "../5-burn/visual-error.js";
import type { ResolvedOptions } from "../core/options.js";
import { type BurnModel, compensatedBurner, halftoneFunction, plainBurner, TRIAL_CURVE } from "./job.js";
import { burnAt, spreadDoses, viewingOf } from "./predict-piece.js";

/**
 * Judged in this order, simplest first; one of each kind that a photograph may want. Each must bring the error below this
 * share of the best before it, or the simpler method stays. A clustered-dot screen weathers a wandering dose best, but its
 * regular dots cost two thirds of the tones of fine detail, so it must be worth much more.
 */
const CANDIDATES = [
  ["floyd-steinberg", 1],
  ["blue-noise", 0.9],
  ["ostromoukhov", 0.9],
  ["green-noise", 0.9],
  ["clustered-dot", 0.67],
] as const;

/** Side of the piece of the photo on which methods are judged, in pixels. */
const JUDGED_PX = 256;

export interface JudgedMethod {
  readonly method: string;
  /** Expected visual error of the judged piece alone, in L*. */
  readonly trialError: number;
}

/**
 * Choose the halftone by expected visual error under the process spread, on the middle of this very photo: the simplest
 * stays unless a more elaborate one is clearly better.
 */
export function chooseMethod(
  model: BurnModel,
  wanted: Float32Array,
  columns: number,
  rows: number,
  options: ResolvedOptions,
): { readonly method: HalftoneMethod; readonly ranking: readonly JudgedMethod[] } {
  const side = { columns: Math.min(columns, JUDGED_PX), rows: Math.min(rows, JUDGED_PX) };
  const piece = cropMiddle(wanted, columns, rows, side.columns, side.rows);
  const ranking = CANDIDATES.map(([id]) => ({
    method: id,
    trialError: expectedError(model, findHalftoneMethod(id), piece, side.columns, side.rows, options),
  }));
  const best = ranking.reduce((kept, next, k) =>
    next.trialError < CANDIDATES[k][1] * kept.trialError ? next : kept,
  );
  return { method: findHalftoneMethod(best.method), ranking };
}

function expectedError(
  model: BurnModel,
  method: HalftoneMethod,
  wanted: Float32Array,
  columns: number,
  rows: number,
  options: ResolvedOptions,
): number {
  const halftone = halftoneFunction(method, options);
  const burner = options.compensate
    ? compensatedBurner(model, halftone, options, TRIAL_CURVE)
    : plainBurner(model);
  const bits = halftone(burner.fractions(wanted, columns, rows), columns, rows);
  const doses = spreadDoses(options.doseSpread);
  const predicted = doses.map(() => new Float32Array(bits.length));
  burnAt(model, bits, columns, rows, doses, predicted);
  const errors = visualErrors(predicted, wanted, columns, rows, options.pitch, viewingOf(options));
  return errors.reduce((sum, { rms }) => sum + rms, 0) / errors.length;
}

function cropMiddle(
  plane: Float32Array,
  columns: number,
  rows: number,
  cropColumns: number,
  cropRows: number,
): Float32Array {
  const left = (columns - cropColumns) >> 1;
  const top = (rows - cropRows) >> 1;
  const out = new Float32Array(cropColumns * cropRows);
  for (let y = 0; y < cropRows; y++) {
    const from = (top + y) * columns + left;
    out.set(plane.subarray(from, from + cropColumns), y * cropColumns);
  }
  return out;
}
