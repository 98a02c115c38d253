import type { HalftoneMethod } from "../../4-halftone/method.js";
import { type BurnTables, compensatedRows, type FractionRows, plainRows } from "../../5-burn/compensate.js";
import { invertToneCurve, type ToneCurve } from "../../5-burn/tone-curve.js";
import type { CodeRows } from "../../core/plane-rows.js";
import { type Tabulated, tabulate } from "../../core/tabulated.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type BurnModel, plainBurn } from "../burn-model.js";
import type { Job } from "../job.js";
import { type CurveEffort, isThreshold, keptCurve, TRIAL_CURVE } from "./burn-curve.js";
import type { BurnStage } from "./burn-stage.js";

/** The rule that turns a job's wanted tones into burn fractions. */
export interface BurnRule {
  /** Burn fraction by wanted luminance factor. */
  readonly burnFor: Tabulated;
  /** Whether tones are compensated for halftone, spot and material. */
  readonly compensated: boolean;
  /** Whether fine texture is balanced (see `compensatedRows`). */
  readonly balanced: boolean;
  /** Absent if none was measured. */
  readonly curve?: ToneCurve;
}

/** The rule of a method in this job. @param stage measures the tone curve; without it this thread does */
export async function burnRule(
  job: Job,
  method: HalftoneMethod,
  stage?: Pick<BurnStage, "measureCurve">,
): Promise<BurnRule> {
  if (!isCompensated(method, job.options)) return plainRule(job.model, method);
  const measure = stage && (() => stage.measureCurve(method.id));
  return compensatedRule(job.model, method, await keptCurve(job, method, undefined, measure));
}

/** The rule of a method in this job, by a tone curve of the caller's, which is asked for only if the rule needs one. */
export function ruleByCurve(
  { model, options }: Job,
  method: HalftoneMethod,
  curve: () => ToneCurve,
): BurnRule {
  return isCompensated(method, options) ? compensatedRule(model, method, curve()) : plainRule(model, method);
}

/** A rule from a coarser curve, precise enough to rank methods. */
export async function trialRule(
  job: Job,
  method: HalftoneMethod,
  effort: CurveEffort = TRIAL_CURVE,
): Promise<BurnRule> {
  return isCompensated(method, job.options)
    ? compensatedRule(job.model, method, await keptCurve(job, method, effort))
    : plainRule(job.model, method);
}

/**
 * A plain threshold between on and off has two tones and no curve to invert. It is already half-way between bare and
 * burned.
 */
function isCompensated(method: HalftoneMethod, options: ResolvedOptions): boolean {
  return options.compensate && (!isThreshold(method) || options.levels > 2);
}

/** The inverse of a measured tone curve. A method that asks for marked area balances texture itself. */
function compensatedRule({ range }: BurnModel, method: HalftoneMethod, curve: ToneCurve): BurnRule {
  const burnFor = tabulate(invertToneCurve(curve), range.darkest, range.lightest);
  return { burnFor, compensated: true, balanced: !method.asksForArea, curve };
}

/** No compensation, as if each mark covered its pixel exactly. With a method that asks for marked area this is true. */
function plainRule(model: BurnModel, method: HalftoneMethod): BurnRule {
  return { burnFor: plainBurn(model), compensated: method.asksForArea === true, balanced: false };
}

/** Burn fractions row by row from luminance on the grid of the whole piece or of a part. */
export function burnRows(
  { memory, model, options }: Job,
  { burnFor, balanced }: BurnRule,
  codes: CodeRows,
  { columns, rows }: { readonly columns: number; readonly rows: number },
): FractionRows {
  const { wantedByCode, bareCode, solidCode } = model;
  const { pitch, spot, ringColumns } = options;
  const tables: BurnTables = { wantedByCode, burnFor, bareCode, solidCode };
  return balanced
    ? compensatedRows(tables, { columns, rows, pitch, spot, closed: columns === ringColumns }, codes, memory)
    : plainRows(tables, columns, codes, memory);
}
