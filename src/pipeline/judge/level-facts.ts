import type { HalftoneMethod } from "../../4-halftone/method.js";
import { levelLuminances } from "../../5-burn/solid-fill.js";
import type { TonalResolution } from "../../5-burn/tonal-resolution.js";
import type { Report } from "../../6-report/report.js";
import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import { largestWithin } from "../../core/spread.js";
import { burnRule } from "../burn/burn-rule.js";
import { fittingMethod, methodFor } from "../burn/choose-method.js";
import { type Job, jobWith } from "../job.js";
import type { PictureOnGrid } from "../photo/picture-rows.js";
import { toneCounts } from "./tone-counts.js";

type PowerLevels = NonNullable<Report["powerLevels"]>;

export type LevelSteps = Pick<
  PowerLevels,
  "largestStepLightness" | "largestStepShare" | "largestSwingLightness"
>;

/** The difference between fills of neighbouring power levels, and how far a dose that varies within the piece moves them. */
export function levelSteps({ memory, model, options }: Job): LevelSteps {
  const { plan, response } = model;
  const { deviation } = largestWithin(options.spread);
  const [nominal, under, over] = [1, 1 - deviation, 1 + deviation].map((dose) =>
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

/** The halftone for comparison if the job has none. */
const USUAL_METHOD = "floyd-steinberg";

/** The same job with the beam on or off, to compare with power levels. */
export interface OnOff {
  readonly method: string;
  readonly tones: readonly TonalResolution[];
}

/** Tones of the same job without power levels, with the halftone that it would then have. */
export async function onOffTones(job: Job, method: HalftoneMethod, picture: PictureOnGrid): Promise<OnOff> {
  const onOff = jobWith(job, { ...job.options, levels: 2 });
  const release = job.memory.mark();
  const dithered =
    onOff.options.method === "auto"
      ? (await methodFor(onOff, picture)).method
      : method.family === "threshold"
        ? fittingMethod(USUAL_METHOD, onOff.options)
        : method;
  const tones = await toneCounts(onOff, dithered, await burnRule(onOff, dithered));
  release();
  return { method: dithered.id, tones };
}
