import type { HalftoneMethod } from "../4-halftone/method.js";
import { levelLuminances } from "../5-burn/solid-fill.js";
import type { TonalResolution } from "../5-burn/tonal-resolution.js";
import type { Report } from "../6-report/report.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { lightnessFromLuminance } from "../core/lightness.js";
import type { ResolvedOptions } from "../core/options.js";
import { type CurveStore, compensatedBurn, isCompensated, keptCurve, measureCurve } from "./burn-curve.js";
import { fittingMethod } from "./choose-method.js";
import { type BurnModel, createBurnModel, plainBurn } from "./job.js";
import { toneCounts } from "./tone-counts.js";

type PowerLevels = NonNullable<Report["powerLevels"]>;

/** How far apart fills of neighbouring power levels are. */
export function levelSteps(
  memory: KernelMemory,
  { plan, response }: BurnModel,
): Pick<PowerLevels, "largestStepLightness" | "largestStepShare"> {
  const lightness = levelLuminances(memory, plan, response).map(lightnessFromLuminance);
  const whole = Math.abs(lightness[lightness.length - 1] - lightness[0]);
  const steps = lightness.slice(1).map((value, k) => Math.abs(value - lightness[k]));
  const largestStepLightness = Math.max(...steps);
  return { largestStepLightness, largestStepShare: whole > 0 ? largestStepLightness / whole : 0 };
}

/** In place of the halftone of a job that has none. */
const USUAL_METHOD = "floyd-steinberg";

/** Tones that the same job would carry with the beam on or off: what levels are held against. */
export async function onOffTones(
  memory: KernelMemory,
  method: HalftoneMethod,
  withLevels: ResolvedOptions,
  curves?: CurveStore,
): Promise<TonalResolution[]> {
  const options: ResolvedOptions = { ...withLevels, levels: 2 };
  const dithered = method.family === "threshold" ? fittingMethod(USUAL_METHOD, options) : method;
  const release = memory.mark();
  const model = createBurnModel(options, memory);
  const burnFor = isCompensated(dithered, options)
    ? compensatedBurn(
        model,
        await keptCurve(dithered, options, curves, () => measureCurve(memory, model, dithered, options)),
      )
    : plainBurn(model);
  const tones = toneCounts(memory, model, burnFor, dithered, options);
  release();
  return tones;
}
