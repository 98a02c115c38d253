import { createHash } from "node:crypto";
import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { errorMargin } from "../../5-burn/judged-tiles.js";
import { predictBitmap } from "../../5-burn/predict.js";
import { variedError } from "../../5-burn/variation.js";
import { judgedSums } from "../../5-burn/visual-error.js";
import type { CodeRows } from "../../core/plane-rows.js";
import { exposureOf } from "../burn-model.js";
import { halftoneFunction, type Job } from "../job.js";
import { fieldShares, type PieceSize, plannedRuns } from "../judge/variation-runs.js";
import { viewingOf } from "../judge/viewing.js";
import { keptTable } from "../kept-tables.js";
import { type CurveEffort, halftoneDepends, TRIAL_CURVE } from "./burn-curve.js";
import { type BurnRule, burnRows, trialRule } from "./burn-rule.js";

/** A small picture on which methods are tried: luminance codes, row-major. */
export interface TrialPicture {
  readonly codes: Uint16Array;
  readonly columns: number;
  readonly rows: number;
  /** The piece for which it stands. */
  readonly piece: PieceSize;
}

/** Expected visual error of each method on a small picture, in L*. The machine varies. @param effort of tone curves */
export async function trialErrors(
  job: Job,
  methods: readonly string[],
  picture: TrialPicture,
  effort: CurveEffort = TRIAL_CURVE,
): Promise<Float64Array> {
  const depends = trialDepends(job, methods, picture, effort);
  const { trialError } = await keptTable(job.curves, depends, ["candidate", "trialError"], async () => {
    const errors: number[] = [];
    for (const id of methods) {
      const method = findHalftoneMethod(id);
      errors.push(await expectedError(job, method, await trialRule(job, method, effort), picture));
    }
    return { candidate: Float64Array.from(methods.keys()), trialError: Float64Array.from(errors) };
  });
  return trialError;
}

/** Everything that trial errors depend on. */
function trialDepends(
  { options }: Job,
  methods: readonly string[],
  { codes, columns, rows, piece }: TrialPicture,
  effort: CurveEffort,
): object {
  const { toneMap, compensate, spread, viewDistanceMm } = options;
  return {
    trial: effort,
    ...halftoneDepends(options),
    ...{ methods, toneMap, compensate, spread, viewDistanceMm, columns, rows, piece },
    codes: createHash("sha256").update(codes).digest("hex"),
  };
}

function expectedError(job: Job, method: HalftoneMethod, rule: BurnRule, picture: TrialPicture): number {
  const { memory, model, options } = job;
  const { codes, columns, rows } = picture;
  const release = memory.mark();
  const row = memory.uint16(columns);
  const codeRow: CodeRows = (y) => {
    row.set(codes.subarray(y * columns, (y + 1) * columns));
    return row;
  };
  const fractionsOf = burnRows(job, rule, codeRow, picture);
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
  return variedError({ all: sums, some: sums }, runs, options.spread, fieldShares(options, picture.piece))
    .expected;
}
