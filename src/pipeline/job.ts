import type { HalftoneMethod, HalftoneSettings } from "../4-halftone/method.js";
import { patchHalftone } from "../4-halftone/patch-halftone.js";
import { uncompensatedBurn } from "../5-burn/compensate.js";
import { type ExposurePlan, planExposure } from "../5-burn/exposure-plan.js";
import type { HalftoneFunction } from "../5-burn/flat-patch.js";
import { reachableTones } from "../5-burn/solid-fill.js";
import { createSurfaceModel } from "../5-burn/surface-model.js";
import { createTarget, type ToneRange } from "../5-burn/target.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { BRIGHTEST_CODE, CODES } from "../core/luminance-codes.js";
import type { Response } from "../core/material/response.js";
import { refusal } from "../core/refusals/refusals.js";
import { type Tabulated, tabulate } from "../core/tabulated.js";
import type { ResolvedOptions } from "../options/options.js";

/** A solid fill with gaps ripples strongly: on a steep material the usual samples leave 0.3 L* of bias, these under 0.02. */
const SOLID_REFINEMENT = 4;

/** The physics of one job, the same for every halftone method: what a dose does, and which tones can be reached. */
export interface BurnModel {
  readonly response: Response;
  readonly plan: ExposurePlan;
  readonly bare: number;
  readonly solid: number;
  readonly range: ToneRange;
  /** [65536] wanted luminance factor by code of the photo's linear luminance. */
  readonly wantedByCode: Float32Array;
  /** The code that asks for the bare surface, and that which asks for a solid fill. */
  readonly bareCode: number;
  readonly solidCode: number;
}

export function createBurnModel(options: ResolvedOptions, memory: KernelMemory): BurnModel {
  const response = options.material.curve;
  const { pitch, spot, motion, levels } = options;
  const { bare, darkens } = response;
  const range = reachableTones(memory, planExposure(pitch, spot, motion, SOLID_REFINEMENT), response);
  const target = createTarget(options.toneMap, range);
  return {
    response,
    plan: planExposure(pitch, spot, motion, 1, levels),
    bare,
    solid: darkens ? range.darkest : range.lightest,
    range,
    wantedByCode: Float32Array.from({ length: CODES }, (_, code) => target(code / BRIGHTEST_CODE)),
    bareCode: darkens ? BRIGHTEST_CODE : 0,
    solidCode: darkens ? 0 : BRIGHTEST_CODE,
  };
}

/** @param modelOf asked only by a method that needs to know the surface */
export function halftoneSettings(
  options: ResolvedOptions,
  modelOf: () => BurnModel = unknownSurface,
): HalftoneSettings {
  return {
    pitch: options.pitch,
    spot: options.spot,
    scan: options.scan,
    seed: options.seed,
    screenLinesPerInch: options.screenLinesPerInch,
    screenAngleDeg: options.screenAngleDeg,
    clumping: options.clumping,
    levels: options.levels,
    ringColumns: options.ringColumns,
    surface() {
      const { response, bare, solid } = modelOf();
      return createSurfaceModel(options.pitch, options.spot, options.motion, response, bare, solid);
    },
  };
}

function unknownSurface(): never {
  throw refusal("surface-not-given", {});
}

/** A halftone method bound to a job's settings, as the burn stage wants it. */
export function halftoneFunction(
  method: HalftoneMethod,
  options: ResolvedOptions,
  model: BurnModel,
  memory: KernelMemory,
): HalftoneFunction {
  return patchHalftone(
    method,
    halftoneSettings(options, () => model),
    memory,
  );
}

/** Burn fraction by wanted luminance factor as if marks were as large as their pixels: no compensation. */
export function plainBurn({ bare, solid, range }: BurnModel): Tabulated {
  return tabulate(uncompensatedBurn(bare, solid), range.darkest, range.lightest);
}
