import type { Viewing } from "../5-burn/eye-filter.js";
import type { HalftoneFunction } from "../5-burn/flat-patch.js";
import { predictLuminance } from "../5-burn/predict.js";
import { type VisualError, visualErrors } from "../5-burn/visual-error.js";
import type { ResolvedOptions } from "../core/options.js";
import { type BurnModel, plainBurner } from "./job.js";

/** Luminance that the eye is adapted to when it looks at a piece in the hand, cd/m² (section 6). */
const ADAPTED_CD_PER_M2 = 10;

export interface PiecePrediction {
  /** Predicted luminance factors at nominal dose. */
  readonly luminance: Float32Array;
  readonly nominal: VisualError;
  /** Mean visual error over the doses 1 − s, 1, 1 + s. */
  readonly expectedVisualError: number;
  readonly uncompensated: VisualError;
}

export function viewingOf(options: ResolvedOptions): Viewing {
  return { distanceMm: options.viewDistanceMm, luminanceCdPerM2: ADAPTED_CD_PER_M2 };
}

/** The doses of the process spread, nominal first. */
export const spreadDoses = (doseSpread: number): number[] => [1, 1 - doseSpread, 1 + doseSpread];

/** Predict a bitmap and hold it against what was wanted, at the doses of the process spread. */
export function predictPiece(
  model: BurnModel,
  bits: Uint8Array,
  wanted: Float32Array,
  columns: number,
  rows: number,
  halftone: HalftoneFunction,
  options: ResolvedOptions,
): PiecePrediction {
  const doses = spreadDoses(options.doseSpread);
  const predicted = doses.map(() => new Float32Array(bits.length));
  burnAt(model, bits, columns, rows, doses, predicted);
  const plain = [new Float32Array(bits.length)];
  burnAt(
    model,
    halftone(plainBurner(model).fractions(wanted, columns, rows), columns, rows),
    columns,
    rows,
    [1],
    plain,
  );
  const [nominal, under, over, uncompensated] = visualErrors(
    [...predicted, ...plain],
    wanted,
    columns,
    rows,
    options.pitch,
    viewingOf(options),
  );
  return {
    luminance: predicted[0],
    nominal,
    expectedVisualError: (nominal.rms + under.rms + over.rms) / 3,
    uncompensated,
  };
}

/** Predicted luminance factors of a whole bitmap at several doses. */
export function burnAt(
  model: BurnModel,
  bits: Uint8Array,
  columns: number,
  rows: number,
  doses: readonly number[],
  out: readonly Float32Array[],
): void {
  const row = (y: number): Uint8Array => bits.subarray(y * columns, (y + 1) * columns);
  predictLuminance(model.plan, model.response, row, columns, rows, 0, rows, doses, out);
}
