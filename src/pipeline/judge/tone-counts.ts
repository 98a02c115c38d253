import type { HalftoneMethod } from "../../4-halftone/method.js";
import { patchLightness, type TonalResolution, tonalResolution } from "../../5-burn/tonal-resolution.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { BRIGHTEST_CODE } from "../../core/luminance-codes.js";
import { luminanceFromLightness } from "../../core/physics/lightness.js";
import { lookUp, type Tabulated } from "../../core/tabulated.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type BurnModel, halftoneFunction } from "../job.js";

/** Tones that details of several sizes will carry, through this job's own way from photo to burn fraction. */
export function toneCounts(
  memory: KernelMemory,
  model: BurnModel,
  burnFor: Tabulated,
  method: HalftoneMethod,
  options: ResolvedOptions,
): TonalResolution[] {
  const { plan, response } = model;
  const fractions = patchLightness().map((lightness) => fractionFor(lightness, model, burnFor));
  const release = memory.mark();
  const halftone = halftoneFunction(method, options, model, memory);
  const tones = tonalResolution(
    { plan, response, memory },
    halftone,
    fractions,
    options.pitch,
    options.doseSpread,
  );
  release();
  return tones;
}

/** The burn fraction that a job asks for where the photo has a lightness L*, 0..100. */
export function fractionFor(lightness: number, { wantedByCode }: BurnModel, burnFor: Tabulated): number {
  const code = Math.round(luminanceFromLightness(lightness) * BRIGHTEST_CODE);
  return lookUp(burnFor, wantedByCode[code]);
}
