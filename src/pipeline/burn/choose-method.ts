import { autoCandidates } from "../../4-halftone/candidates.js";
import { halftoneMethods } from "../../4-halftone/catalogue.js";
import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import { checkLevels } from "../../4-halftone/levels.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { predictBitmap } from "../../5-burn/predict.js";
import { visualErrors } from "../../5-burn/visual-error.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { CodeRows } from "../../core/plane-rows.js";
import { MOST_LEVELS } from "../../core/power-levels.js";
import { refusal } from "../../core/refusals/refusals.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type BurnModel, halftoneFunction } from "../job.js";
import { spreadDoses, viewingOf } from "../judge/viewing.js";
import { type FramedPhoto, luminanceRows } from "../photo/luminance.js";
import { typicalPart } from "../photo/typical-part.js";
import { measureCurve, TRIAL_CURVE } from "./burn-curve.js";
import { burnRows, compensatedBurner, plainBurner } from "./burn-rows.js";

/** So many power levels need no halftone: each pixel takes the nearest. */
const WITHOUT_HALFTONE = "threshold";

/** A tie: an error not lower than this share of the best so far leaves the simpler method in place. */
const CLEARLY_LESS = 0.97;

/** Side of the part of the photo on which methods are judged, in pixels. */
const JUDGED_PX = 256;

export interface JudgedMethod {
  readonly method: string;
  /** Expected visual error of the judged part alone, in L*. */
  readonly trialError: number;
}

/** A small part of the photo's luminance on the grid, as codes, row-major. */
interface Crop {
  readonly codes: Uint16Array;
  readonly columns: number;
  readonly rows: number;
}

export interface ChosenMethod {
  readonly method: HalftoneMethod;
  /** Only where it was `auto`. */
  readonly ranking?: readonly JudgedMethod[];
}

/** The halftone method asked for, or the one that suits this photo. */
export function methodFor(
  memory: KernelMemory,
  model: BurnModel,
  framed: FramedPhoto,
  options: ResolvedOptions,
): ChosenMethod {
  if (options.method === "auto" && options.levels === MOST_LEVELS) {
    return { method: findHalftoneMethod(WITHOUT_HALFTONE) };
  }
  return options.method === "auto"
    ? chooseMethod(memory, model, framed, options)
    : { method: fittingMethod(options.method, options) };
}

/**
 * Choose the halftone by expected visual error under the process spread, on a typical part of this very photo; ties go to
 * the simpler method.
 */
function chooseMethod(
  memory: KernelMemory,
  model: BurnModel,
  framed: FramedPhoto,
  options: ResolvedOptions,
): ChosenMethod {
  const handBack = memory.mark();
  const part = typicalPart(framed, JUDGED_PX, options);
  const crop = cut(luminanceRows(framed, options, memory), part);
  handBack();
  const able = autoCandidates.filter((id) => options.levels === 2 || findHalftoneMethod(id).takesLevels);
  const ranking = able.map((id) => {
    const release = memory.mark();
    const trialError = expectedError(memory, model, findHalftoneMethod(id), crop, options);
    release();
    return { method: id, trialError };
  });
  const best = ranking.reduce((kept, next) =>
    next.trialError < CLEARLY_LESS * kept.trialError ? next : kept,
  );
  return { method: findHalftoneMethod(best.method), ranking };
}

function expectedError(
  memory: KernelMemory,
  model: BurnModel,
  method: HalftoneMethod,
  { codes, columns, rows }: Crop,
  options: ResolvedOptions,
): number {
  const burner = options.compensate
    ? compensatedBurner(model, method, measureCurve(memory, model, method, options, TRIAL_CURVE))
    : plainBurner(model, method);
  const row = memory.uint16(columns);
  const cropRow: CodeRows = (y) => {
    row.set(codes.subarray(y * columns, (y + 1) * columns));
    return row;
  };
  const fractionsOf = burnRows(memory, model, burner, cropRow, columns, rows, options);
  const fractions = memory.int16(columns * rows);
  for (let y = 0; y < rows; y++) fractionsOf(y, fractions.subarray(y * columns, (y + 1) * columns));
  const bits = halftoneFunction(method, options, model, memory)(fractions, columns, rows);
  const { plan, response, wantedByCode } = model;
  const predicted = predictBitmap(memory, plan, response, bits, spreadDoses(options.doseSpread));
  const wanted = Float32Array.from(codes, (code) => wantedByCode[code]);
  const errors = visualErrors(predicted, wanted, columns, rows, options.pitch, viewingOf(options), memory);
  return errors.reduce((sum, { rms }) => sum + rms, 0) / errors.length;
}

function cut(codes: CodeRows, { left, top, columns, rows }: PixelRectangle): Crop {
  const out = new Uint16Array(columns * rows);
  for (let y = 0; y < rows; y++) out.set(codes(top + y).subarray(left, left + columns), y * columns);
  return { columns, rows, codes: out };
}

/**
 * Throws `OPTION_METHOD_UNKNOWN`, `OPTION_METHOD_GRID` for a method made for another grid than the job's, or
 * `OPTION_METHOD_LEVELS` for one that knows on and off alone.
 */
export function fittingMethod(id: string, { pitch, spot, wrap, levels }: ResolvedOptions): HalftoneMethod {
  const method = findHalftoneMethod(id);
  checkLevels(method, levels, halftoneMethods);
  if (method.flatOnly && wrap) {
    throw refusal("method-flat-only", { method: id }, { received: id });
  }
  const spotPx = Math.max(spot.acrossMm / pitch.acrossMm, spot.alongMm / pitch.alongMm);
  if (method.mostSpotPx !== undefined && spotPx > method.mostSpotPx) {
    throw refusal("method-spot-too-wide", { method: id, maxPx: method.mostSpotPx, spotPx }, { received: id });
  }
  if (!method.pitchRatio) return method;
  const [least, most] = method.pitchRatio;
  const ratio = pitch.acrossMm / pitch.alongMm;
  if (ratio >= least && ratio <= most) return method;
  throw refusal(
    "method-grid",
    {
      method: id,
      min: least,
      max: most,
      ratio,
      linesPerInchAlong: (linesPerInchFromPitchMm(pitch.acrossMm) * (least + most)) / 2,
    },
    { received: id },
  );
}
