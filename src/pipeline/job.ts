import { halftoneData } from "../4-halftone/halftone.js";
import type { HalftoneMethod, HalftoneSettings } from "../4-halftone/method.js";
import { compensate, uncompensatedBurn } from "../5-burn/compensate.js";
import { curveFractions } from "../5-burn/curve-fractions.js";
import { type ExposurePlan, planExposure } from "../5-burn/exposure-plan.js";
import type { HalftoneFunction, PatchSize } from "../5-burn/flat-patch.js";
import { reachableTones } from "../5-burn/solid-fill.js";
import { createTarget, type ToneRange } from "../5-burn/target.js";
import { invertToneCurve, measureToneCurve } from "../5-burn/tone-curve.js";
import type { ResolvedOptions } from "../core/options.js";
import { seededRandom } from "../core/random.js";
import type { Response } from "../core/response.js";
import { mapTabulated, type Tabulated, tabulate } from "../core/tabulated.js";

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

/** A solid fill with gaps ripples strongly: on a steep material the usual samples leave 0.3 L* of bias, these under 0.02. */
const SOLID_REFINEMENT = 4;

/** The physics of one job, the same for every halftone method: what a dose does, and which tones can be reached. */
export interface BurnModel {
  readonly response: Response;
  readonly plan: ExposurePlan;
  readonly bare: number;
  readonly solid: number;
  readonly range: ToneRange;
  /** Wanted luminance factor by linear luminance of the photo. */
  readonly target: Tabulated;
}

export function createBurnModel(options: ResolvedOptions): BurnModel {
  const response = options.material.curve;
  const plan = planExposure(options.pitch, options.spot, options.motion);
  const { bare, darkens } = response;
  const range = reachableTones(
    planExposure(options.pitch, options.spot, options.motion, SOLID_REFINEMENT),
    response,
  );
  const solid = darkens ? range.darkest : range.lightest;
  const target = tabulate(createTarget(options.toneMap, range), 0, 1);
  return { response, plan, bare, solid, range, target };
}

export function halftoneSettings(options: ResolvedOptions): HalftoneSettings {
  return {
    pitch: options.pitch,
    spot: options.spot,
    scan: options.scan,
    random: () => seededRandom(options.seed),
    screenLinesPerInch: options.screenLinesPerInch,
    screenAngleDeg: options.screenAngleDeg,
    clumping: options.clumping,
  };
}

/** A halftone method bound to a job's settings, as the burn stage wants it. */
export function halftoneFunction(method: HalftoneMethod, options: ResolvedOptions): HalftoneFunction {
  const settings = halftoneSettings(options);
  return (fractions, columns, rows) => halftoneData(method, fractions, columns, rows, settings);
}

/** From wanted luminance factors to burn fractions, for one method of one job. */
export interface Burner {
  /** Burn fraction by wanted luminance factor. */
  readonly burnFor: Tabulated;
  readonly fractions: (wanted: Float32Array, columns: number, rows: number) => Float32Array;
}

/** Compensated: the tone curve of exactly this halftone × spot × pitches × material, measured and inverted. */
export function compensatedBurner(
  model: BurnModel,
  halftone: HalftoneFunction,
  options: ResolvedOptions,
  effort: CurveEffort = FINAL_CURVE,
): Burner {
  const { response, plan, range } = model;
  const overlapping = options.spot.acrossMm > options.pitch.acrossMm;
  const patches = Math.min(effort.patches, overlapping ? effort.patches : PATCHES_WITHOUT_OVERLAP);
  const samplesPerPx = plan.samplesAlong * plan.samplesAcross;
  const affordablePx = Math.floor(Math.sqrt(MOST_CURVE_SAMPLES / (patches * samplesPerPx)));
  const sidePx = Math.min(effort.sidePx, Math.max(LEAST_SIDE_PX, affordablePx));
  const patch: PatchSize = { columns: sidePx, rows: sidePx, marginPx: effort.marginPx };
  const curve = measureToneCurve(curveFractions(response, patches), patch, halftone, plan, response, model);
  const burnFor = tabulate(invertToneCurve(curve), range.darkest, range.lightest);
  return {
    burnFor,
    fractions: (wanted, columns, rows) =>
      compensate(burnFor, wanted, columns, rows, options.pitch, options.spot),
  };
}

/** Uncompensated: marks taken to be as large as their pixels. */
export function plainBurner(model: BurnModel): Burner {
  const burnFor = tabulate(
    uncompensatedBurn(model.bare, model.solid),
    model.range.darkest,
    model.range.lightest,
  );
  return { burnFor, fractions: (wanted) => mapTabulated(burnFor, wanted) };
}
