import type { HalftoneMethod, Repeat } from "../../4-halftone/method.js";
import { curveFractions } from "../../5-burn/curve-fractions.js";
import type { ExposurePlan } from "../../5-burn/exposure-plan.js";
import type { PatchSize } from "../../5-burn/flat-patch.js";
import { levelLuminances } from "../../5-burn/solid-fill.js";
import { measureToneCurve, type ToneCurve } from "../../5-burn/tone-curve.js";
import { levelPowers } from "../../core/power-levels.js";
import type { ResolvedOptions } from "../../options/options.js";
import { halftoneFunction, halftoneSettings, type Job } from "../job.js";
import { keptTable } from "../kept-tables.js";

/**
 * How finely a tone curve is measured: the maximum number of patches and their maximum side. If the halftone is a pattern, patches
 * are a whole repeat of it, and fewer if that is larger: a mean then does not depend on where a patch cuts the pattern.
 */
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

/** Fewest patches of whole repeats. With fewer, the curve between them costs more than a cut pattern. */
const MIN_PATCHES = { overlapping: 33, apart: 9 } as const;

/** The tone curve of exactly this halftone × spot × pitches × material. */
export function measureCurve(job: Job, method: HalftoneMethod, effort: CurveEffort = FINAL_CURVE): ToneCurve {
  const { memory, model } = job;
  const { response, plan } = model;
  const { patches, patch } = patchesFor(job, method, effort);
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

interface CurvePatches {
  readonly patches: number;
  readonly patch: PatchSize;
}

/** Patches of a whole repeat of the pattern, if there is one that the effort allows. Otherwise squares. */
function patchesFor(job: Job, method: HalftoneMethod, effort: CurveEffort): CurvePatches {
  const { options, model } = job;
  const { samplesAlong, samplesAcross } = model.plan;
  const overlapping = options.spot.acrossMm > options.pitch.acrossMm;
  const maxPatches = Math.min(effort.patches, overlapping ? effort.patches : PATCHES_WITHOUT_OVERLAP);
  const maxPx = Math.min(maxPatches * effort.sidePx ** 2, MAX_CURVE_SAMPLES / (samplesAlong * samplesAcross));
  const repeat = method.repeat && linewise(method.repeat(halftoneSettings(job)), model.plan);
  const wholePatches = repeat ? Math.min(maxPatches, Math.floor(maxPx / (repeat.columns * repeat.rows))) : 0;
  if (repeat && wholePatches >= (overlapping ? MIN_PATCHES.overlapping : MIN_PATCHES.apart)) {
    return { patches: wholePatches, patch: { ...repeat, marginPx: effort.marginPx } };
  }
  const sidePx = Math.max(MIN_SIDE_PX, Math.floor(Math.sqrt(maxPx / maxPatches)));
  return { patches: maxPatches, patch: { columns: sidePx, rows: sidePx, marginPx: effort.marginPx } };
}

/** Two repeats of an odd number of lines if even and odd lines burn differently. */
const linewise = ({ columns, rows }: Repeat, { evenLines, oddLines }: ExposurePlan): Repeat => ({
  columns,
  rows: rows % 2 === 0 || evenLines === oddLines ? rows : 2 * rows,
});

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
    lineExponent: options.material.lineExponent,
  };
}

export const isThreshold = ({ family }: HalftoneMethod): boolean => family === "threshold";
