import { createHash } from "node:crypto";
import type { HalftoneMethod } from "../../4-halftone/method.js";
import { curveFractions } from "../../5-burn/curve-fractions.js";
import type { PatchSize } from "../../5-burn/flat-patch.js";
import { levelLuminances } from "../../5-burn/solid-fill.js";
import { invertToneCurve, measureToneCurve, type ToneCurve } from "../../5-burn/tone-curve.js";
import { type KernelMemory, kernelFingerprint } from "../../core/kernel-memory.js";
import { levelPowers } from "../../core/power-levels.js";
import { type Tabulated, tabulate } from "../../core/tabulated.js";
import { packageVersion } from "../../core/version.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type BurnModel, halftoneFunction } from "../job.js";

/** How finely a tone curve is measured: at most this many patches of at most this side. */
export interface CurveEffort {
  readonly patches: number;
  readonly sidePx: number;
  readonly marginPx: number;
}

/** From 129 patches up the visual error of photographs no longer falls. */
const FINAL_CURVE: CurveEffort = { patches: 129, sidePx: 80, marginPx: 16 };

/** Enough to rank methods by: within a few hundredths of an L* of the final curve's visual error. */
export const TRIAL_CURVE: CurveEffort = { patches: 65, sidePx: 64, marginPx: 16 };

/** Where spots stand apart the tone curve is all but straight, and each pixel takes many samples. */
const PATCHES_WITHOUT_OVERLAP = 33;
const MOST_CURVE_SAMPLES = 6e7;
const LEAST_SIDE_PX = 16;

/** Keeps measured tone curves from one job to the next, by `curveKey`. */
export interface CurveStore {
  readonly get: (key: string) => ToneCurve | undefined;
  readonly set: (key: string, curve: ToneCurve) => void;
}

/** The tone curve of exactly this halftone × spot × pitches × material. */
export function measureCurve(
  memory: KernelMemory,
  model: BurnModel,
  method: HalftoneMethod,
  options: ResolvedOptions,
  effort: CurveEffort = FINAL_CURVE,
): ToneCurve {
  const { response, plan } = model;
  const overlapping = options.spot.acrossMm > options.pitch.acrossMm;
  const patches = Math.min(effort.patches, overlapping ? effort.patches : PATCHES_WITHOUT_OVERLAP);
  const samplesPerPx = plan.samplesAlong * plan.samplesAcross;
  const affordablePx = Math.floor(Math.sqrt(MOST_CURVE_SAMPLES / (patches * samplesPerPx)));
  const sidePx = Math.min(effort.sidePx, Math.max(LEAST_SIDE_PX, affordablePx));
  const patch: PatchSize = { columns: sidePx, rows: sidePx, marginPx: effort.marginPx };
  const { levels } = plan;
  // Where each pixel takes the nearest level, all tints there are are those of the levels.
  const fractions = isThreshold(method) ? levelPowers(levels) : curveFractions(response, patches, levels);
  const known = levels === 2 ? [] : levelLuminances({ plan, response, memory });
  const release = memory.mark();
  const halftone = halftoneFunction(method, options, model, memory);
  const curve = measureToneCurve({ plan, response, memory }, halftone, fractions, patch, {
    ...model,
    levels: known,
  });
  release();
  return curve;
}

const isThreshold = ({ family }: HalftoneMethod): boolean => family === "threshold";

/**
 * A plain threshold between on and off has two tones and no curve to invert: it already lies half-way between bare and
 * burned.
 */
export function isCompensated(method: HalftoneMethod, options: ResolvedOptions): boolean {
  return options.compensate && (!isThreshold(method) || options.levels > 2);
}

/** Burn fraction by wanted luminance factor, compensated: the tone curve inverted. */
export function compensatedBurn({ range }: BurnModel, curve: ToneCurve): Tabulated {
  return tabulate(invertToneCurve(curve), range.darkest, range.lightest);
}

/** A tone curve from the store, or else measured and put there. */
export async function keptCurve(
  method: HalftoneMethod,
  options: ResolvedOptions,
  curves: CurveStore | undefined,
  measure: () => ToneCurve | Promise<ToneCurve>,
): Promise<ToneCurve> {
  const key = curveKey(method, options);
  const kept = curves?.get(key);
  if (kept) return kept;
  const curve = await measure();
  curves?.set(key, curve);
  return curve;
}

/** Names a tone curve by everything that it depends on; version and kernels stand for the code. */
export function curveKey(method: HalftoneMethod, options: ResolvedOptions): string {
  const {
    pitch,
    spot,
    motion,
    scan,
    seed,
    screenLinesPerInch,
    screenAngleDeg,
    clumping,
    levels,
    ringColumns,
    material,
  } = options;
  const depends = {
    version: packageVersion(),
    kernels: kernelFingerprint(),
    method: method.id,
    response: material.response,
    ...{ pitch, spot, motion, scan, seed, screenLinesPerInch, screenAngleDeg, clumping, levels, ringColumns },
  };
  return createHash("sha256").update(JSON.stringify(depends)).digest("hex");
}
