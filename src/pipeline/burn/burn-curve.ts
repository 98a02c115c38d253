import type { HalftoneMethod } from "../../4-halftone/method.js";
import { curveFractions } from "../../5-burn/curve-fractions.js";
import type { PatchSize } from "../../5-burn/flat-patch.js";
import { levelLuminances } from "../../5-burn/solid-fill.js";
import { measureToneCurve, type ToneCurve } from "../../5-burn/tone-curve.js";
import { levelPowers } from "../../core/power-levels.js";
import type { ResolvedOptions } from "../../options/options.js";
import { halftoneFunction, type Job } from "../job.js";
import { keptTable } from "../kept-tables.js";

/** How finely a tone curve is measured: the maximum number of patches and their maximum side. */
export interface CurveEffort {
  readonly patches: number;
  readonly sidePx: number;
  readonly marginPx: number;
}

/** With more than 129 patches the visual error of photographs does not fall further. */
const FINAL_CURVE: CurveEffort = { patches: 129, sidePx: 80, marginPx: 16 };

/** Precise enough to rank methods: within a few hundredths of an L* of the final curve's visual error. */
export const TRIAL_CURVE: CurveEffort = { patches: 65, sidePx: 64, marginPx: 16 };

/** If spots do not overlap, the tone curve is nearly straight, and each pixel takes many samples. */
const PATCHES_WITHOUT_OVERLAP = 33;
const MAX_CURVE_SAMPLES = 6e7;
const MIN_SIDE_PX = 16;

/** The tone curve of exactly this halftone × spot × pitches × material. */
export function measureCurve(job: Job, method: HalftoneMethod, effort: CurveEffort = FINAL_CURVE): ToneCurve {
  const { memory, model, options } = job;
  const { response, plan } = model;
  const overlapping = options.spot.acrossMm > options.pitch.acrossMm;
  const patches = Math.min(effort.patches, overlapping ? effort.patches : PATCHES_WITHOUT_OVERLAP);
  const samplesPerPx = plan.samplesAlong * plan.samplesAcross;
  const affordablePx = Math.floor(Math.sqrt(MAX_CURVE_SAMPLES / (patches * samplesPerPx)));
  const sidePx = Math.min(effort.sidePx, Math.max(MIN_SIDE_PX, affordablePx));
  const patch: PatchSize = { columns: sidePx, rows: sidePx, marginPx: effort.marginPx };
  const { levels } = plan;
  // If each pixel takes the nearest level, the levels are the only tints.
  const fractions = isThreshold(method) ? levelPowers(levels) : curveFractions(response, patches, levels);
  const known = levels === 2 ? [] : levelLuminances({ plan, response, memory });
  const release = memory.mark();
  const halftone = halftoneFunction(method, job);
  const curve = measureToneCurve({ plan, response, memory }, halftone, fractions, patch, {
    ...model,
    levels: known,
  });
  release();
  return curve;
}

/** A tone curve from the store. If it is not there, `measure` makes it and it is stored. */
export function keptCurve(
  job: Job,
  method: HalftoneMethod,
  effort: CurveEffort = FINAL_CURVE,
  measure: () => ToneCurve | Promise<ToneCurve> = () => measureCurve(job, method, effort),
): Promise<ToneCurve> {
  const depends = { curve: effort, ...halftoneDepends(job.options), method: method.id };
  return keptTable(job.curves, depends, ["fractions", "luminance"], measure);
}

/** Everything that the burned tints of a halftone method depend on. */
export function halftoneDepends(options: ResolvedOptions): object {
  const { pitch, spot, motion, scan, seed, screenLinesPerInch, screenAngleDeg, clumping, levels } = options;
  return {
    ...{ pitch, spot, motion, scan, seed, screenLinesPerInch, screenAngleDeg, clumping, levels },
    ringColumns: options.ringColumns,
    response: options.material.curve.points,
  };
}

export const isThreshold = ({ family }: HalftoneMethod): boolean => family === "threshold";
