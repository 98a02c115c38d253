import { createHash } from "node:crypto";
import { autoCandidates } from "../../4-halftone/candidates.js";
import { halftoneMethods } from "../../4-halftone/catalogue.js";
import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import { checkLevels } from "../../4-halftone/levels.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { errorMargin } from "../../5-burn/judged-tiles.js";
import { predictBitmap } from "../../5-burn/predict.js";
import { variedError } from "../../5-burn/variation.js";
import { judgedSums } from "../../5-burn/visual-error.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import type { CodeRows } from "../../core/plane-rows.js";
import { MAX_LEVELS } from "../../core/power-levels.js";
import { refusal } from "../../core/refusals/refusals.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { isCone } from "../../core/wrap.js";
import type { ResolvedOptions } from "../../options/options.js";
import { exposureOf } from "../burn-model.js";
import { halftoneFunction, type Job } from "../job.js";
import { fieldShares, type PieceSize, plannedRuns } from "../judge/variation-runs.js";
import { viewingOf } from "../judge/viewing.js";
import { keptTable } from "../kept-tables.js";
import { luminanceRows } from "../photo/luminance.js";
import type { PictureOnGrid } from "../photo/picture-rows.js";
import { typicalPart } from "../photo/typical-part.js";
import { halftoneDepends, TRIAL_CURVE } from "./burn-curve.js";
import { burnRows, trialRule } from "./burn-rule.js";

/** With the maximum of power levels no halftone is needed: each pixel takes the nearest level. */
const WITHOUT_HALFTONE = "threshold";

/** A more complex method must have less than this share of the best error so far. Otherwise the simpler method stays. */
const CLEARLY_LESS = 0.97;

/** Side of the part of the photo on which methods are judged, in pixels. */
const JUDGED_PX = 256;

interface JudgedMethod {
  readonly method: string;
  /** Expected visual error on the judged part of the photo only, in L*. */
  readonly trialError: number;
}

/** A small part of the photo's luminance on the grid, as codes, row-major. */
interface Crop {
  readonly codes: Uint16Array;
  readonly columns: number;
  readonly rows: number;
  /** The whole piece. */
  readonly piece: PieceSize;
}

export interface ChosenMethod {
  readonly method: HalftoneMethod;
  /** Only if the method was `auto`. */
  readonly ranking?: readonly JudgedMethod[];
}

/** The chosen halftone method, or with `auto` the one that suits this photo. */
export async function methodFor(job: Job, picture: PictureOnGrid): Promise<ChosenMethod> {
  const { method, levels } = job.options;
  if (method !== "auto") return { method: fittingMethod(method, job.options) };
  return levels === MAX_LEVELS
    ? { method: findHalftoneMethod(WITHOUT_HALFTONE) }
    : chooseMethod(job, picture);
}

/**
 * Choose the halftone by expected visual error on a machine that varies, on a typical part of this photo. Ties go to the
 * simpler method.
 */
async function chooseMethod(job: Job, picture: PictureOnGrid): Promise<ChosenMethod> {
  const { options } = job;
  const crop = typicalCrop(job, picture);
  const able = autoCandidates.filter((id) => options.levels === 2 || findHalftoneMethod(id).takesLevels);
  const depends = trialDepends(job, able, crop);
  const { trialError } = await keptTable(job.curves, depends, ["candidate", "trialError"], async () => {
    const errors: number[] = [];
    for (const id of able) errors.push(await expectedError(job, findHalftoneMethod(id), crop));
    return { candidate: Float64Array.from(able.keys()), trialError: Float64Array.from(errors) };
  });
  const ranking = able.map((method, k) => ({ method, trialError: trialError[k] }));
  const best = ranking.reduce((kept, next) =>
    next.trialError < CLEARLY_LESS * kept.trialError ? next : kept,
  );
  return { method: findHalftoneMethod(best.method), ranking };
}

/** Everything that trial errors depend on. */
function trialDepends(
  { options }: Job,
  methods: readonly string[],
  { codes, columns, rows, piece }: Crop,
): object {
  const { toneMap, compensate, spread, viewDistanceMm } = options;
  return {
    trial: TRIAL_CURVE,
    ...halftoneDepends(options),
    ...{ methods, toneMap, compensate, spread, viewDistanceMm, columns, rows, piece },
    codes: createHash("sha256").update(codes).digest("hex"),
  };
}

async function expectedError(job: Job, method: HalftoneMethod, crop: Crop): Promise<number> {
  const { memory, model, options } = job;
  const { codes, columns, rows } = crop;
  const rule = await trialRule(job, method);
  const release = memory.mark();
  const row = memory.uint16(columns);
  const cropRow: CodeRows = (y) => {
    row.set(codes.subarray(y * columns, (y + 1) * columns));
    return row;
  };
  const fractionsOf = burnRows(job, rule, cropRow, crop);
  const fractions = memory.int16(columns * rows);
  for (let y = 0; y < rows; y++) fractionsOf(y, fractions.subarray(y * columns, (y + 1) * columns));
  const bits = halftoneFunction(method, job)(fractions, columns, rows);
  const { wantedByCode, response, plan } = model;
  const { doses, spots, runs } = plannedRuns(options.spread, options.spot);
  const others = spots.map((spot) => exposureOf(options, spot));
  const predicted = [plan, ...others].flatMap((each, k) =>
    predictBitmap({ plan: each, response, memory }, bits, k === 0 ? doses : [1]),
  );
  const wanted = Float32Array.from(codes, (code) => wantedByCode[code]);
  const sums = judgedSums(predicted, wanted, columns, {
    ...{ pitch: options.pitch, viewing: viewingOf(options), memory },
    margin: errorMargin(options.spot, options.pitch),
    slope: { pair: runs.slope.first },
  });
  release();
  return variedError({ all: sums, some: sums }, runs, options.spread, fieldShares(options, crop.piece))
    .expected;
}

function typicalCrop(job: Job, picture: PictureOnGrid): Crop {
  const release = job.memory.mark();
  const part = typicalPart(picture, JUDGED_PX, job.options);
  const codes = cut(luminanceRows(job, picture), part);
  release();
  const { widthMm, heightMm } = picture.frame;
  return { codes, columns: part.columns, rows: part.rows, piece: { widthMm, heightMm } };
}

function cut(codes: CodeRows, { left, top, columns, rows }: PixelRectangle): Uint16Array {
  const out = new Uint16Array(columns * rows);
  for (let y = 0; y < rows; y++) out.set(codes(top + y).subarray(left, left + columns), y * columns);
  return out;
}

/**
 * Throws `OPTION_METHOD_UNKNOWN`, `OPTION_METHOD_GRID` for a method that does not support the job's grid, or
 * `OPTION_METHOD_LEVELS` for a method that supports only on and off.
 */
export function fittingMethod(
  id: string,
  { pitch, spot, wrap, levels, ringColumns }: ResolvedOptions,
): HalftoneMethod {
  const method = findHalftoneMethod(id);
  checkLevels(method, levels, halftoneMethods);
  if (method.flatOnly && wrap && (ringColumns > 0 || isCone(wrap))) {
    throw refusal("method-flat-only", { method: id }, { received: id });
  }
  const spotPx = Math.max(spot.acrossMm / pitch.acrossMm, spot.alongMm / pitch.alongMm);
  if (method.maxSpotPx !== undefined && spotPx > method.maxSpotPx) {
    throw refusal("method-spot-too-wide", { method: id, maxPx: method.maxSpotPx, spotPx }, { received: id });
  }
  if (!method.pitchRatio) return method;
  const [min, max] = method.pitchRatio;
  const ratio = pitch.acrossMm / pitch.alongMm;
  if (ratio >= min && ratio <= max) return method;
  throw refusal(
    "method-grid",
    {
      method: id,
      min,
      max,
      ratio,
      linesPerInchAlong: (linesPerInchFromPitchMm(pitch.acrossMm) * (min + max)) / 2,
    },
    { received: id },
  );
}
