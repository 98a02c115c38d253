import { lightnessFromLuminance, luminanceFromLightness } from "../core/physics/lightness.js";

/** `lightness` spaces tones evenly for the eye between the ends of the job. `luminance` keeps the light ratios of the photo. */
export type ToneMap = "lightness" | "luminance";

/** Darkest and lightest luminance factors that a job can reach. */
export interface ToneRange {
  readonly darkest: number;
  readonly lightest: number;
}

/** Wanted luminance factor of a point, from the photo's linear luminance 0..1 (section 4). */
export type Target = (luminance: number) => number;

/** @returns luminance factors between the two ends, rising with the photo's luminance */
export function createTarget(toneMap: ToneMap, { darkest, lightest }: ToneRange): Target {
  if (toneMap === "luminance") return (luminance) => darkest + (lightest - darkest) * luminance;
  const low = lightnessFromLuminance(darkest);
  const scale = (lightnessFromLuminance(lightest) - low) / 100;
  return (luminance) => luminanceFromLightness(low + scale * lightnessFromLuminance(luminance));
}
