import type { HalftoneMethod } from "../../4-halftone/method.js";
import { levelLuminances } from "../../5-burn/solid-fill.js";
import type { TonalResolution } from "../../5-burn/tonal-resolution.js";
import type { Report } from "../../6-report/report.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import type { ResolvedOptions } from "../../options/options.js";
import {
  type CurveStore,
  compensatedBurn,
  isCompensated,
  keptCurve,
  measureCurve,
} from "../burn/burn-curve.js";
import { fittingMethod, methodFor } from "../burn/choose-method.js";
import { type BurnModel, createBurnModel, plainBurn } from "../job.js";
import type { FramedPhoto } from "../photo/luminance.js";
import { toneCounts } from "./tone-counts.js";
import { spreadDoses } from "./viewing.js";

type PowerLevels = NonNullable<Report["powerLevels"]>;

export type LevelSteps = Pick<
  PowerLevels,
  "largestStepLightness" | "largestStepShare" | "largestSwingLightness"
>;

/** How far apart fills of neighbouring power levels are, and how far a wandering dose moves them. */
export function levelSteps(
  memory: KernelMemory,
  { plan, response }: BurnModel,
  doseSpread: number,
): LevelSteps {
  const [nominal, under, over] = spreadDoses(doseSpread).map((dose) =>
    levelLuminances({ plan, response, memory }, dose).map(lightnessFromLuminance),
  );
  const whole = Math.abs(nominal[nominal.length - 1] - nominal[0]);
  const largestStepLightness = Math.max(...nominal.slice(1).map((value, k) => Math.abs(value - nominal[k])));
  return {
    largestStepLightness,
    largestStepShare: whole > 0 ? largestStepLightness / whole : 0,
    largestSwingLightness: Math.max(...over.map((value, k) => Math.abs(value - under[k]))),
  };
}

/** In place of the halftone of a job that has none. */
const USUAL_METHOD = "floyd-steinberg";

/** What levels are held against: the same job with the beam on or off. */
export interface OnOff {
  readonly method: string;
  readonly tones: readonly TonalResolution[];
}

/** Tones that the same job would carry without power levels, with the halftone that it would then have. */
export async function onOffTones(
  memory: KernelMemory,
  method: HalftoneMethod,
  framed: FramedPhoto,
  withLevels: ResolvedOptions,
  curves?: CurveStore,
): Promise<OnOff> {
  const options: ResolvedOptions = { ...withLevels, levels: 2 };
  const release = memory.mark();
  const model = createBurnModel(options, memory);
  const dithered =
    options.method === "auto"
      ? methodFor(memory, model, framed, options).method
      : method.family === "threshold"
        ? fittingMethod(USUAL_METHOD, options)
        : method;
  const burnFor = isCompensated(dithered, options)
    ? compensatedBurn(
        model,
        await keptCurve(dithered, options, curves, () => measureCurve(memory, model, dithered, options)),
      )
    : plainBurn(model);
  const tones = toneCounts(memory, model, burnFor, dithered, options);
  release();
  return { method: dithered.id, tones };
}
