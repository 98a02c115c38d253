import { BAND_DEVIATIONS } from "../../7-calibration/band.js";
import type { LearntDose } from "../../7-calibration/calibration.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../core/physics/lightness.js";
import { srgbFromLinear } from "../../core/physics/transfer.js";

/** By which many cameras write light; sRGB differs from it most in the dark (IEC 61966-2-1, 1999). */
const PLAIN_POWER = 2.2;
/** Standard deviation in L* by which all patches of one tone come out of a picture alike. Their scatter does not show it. */
const READING_LIGHTNESS = 0.15;
/** Share of the bend from one dose to the next that a smooth curve may have lost: it is fitted to patches that vary in dose. */
const LOST_BEND = 0.2;

/** A picture whose camera nobody knows. */
export interface UnknownCamera {
  /** Luminance factor of the bare surface. */
  readonly bare: number;
  /** Its light in the picture, 0..1. */
  readonly bareLight: number;
}

/**
 * The bands of a response with what the fit cannot know: what pictures do to all patches of a tone, how sharply the curve bends, and the
 * curve of the camera. Pictures of an unknown camera are read as sRGB; the band also takes in what they would say if it wrote a plain
 * power of light.
 */
export function doubtedResponse(response: readonly LearntDose[], unknown?: UnknownCamera): LearntDose[] {
  return response.map((point, k) => {
    const { low, high, luminance } = point;
    const more = Math.hypot(readingDoubt(luminance), LOST_BEND * bendAt(response, k));
    const other = unknown ? byPlainPower(luminance, unknown) : 1;
    return {
      ...point,
      low: Math.max(0, luminance - Math.hypot(luminance - low, more)) * Math.min(1, other),
      high: (luminance + Math.hypot(high - luminance, more)) * Math.max(1, other),
    };
  });
}

const readingDoubt = (luminance: number): number =>
  luminanceFromLightness(lightnessFromLuminance(luminance) + BAND_DEVIATIONS * READING_LIGHTNESS) - luminance;

/** Second difference of the luminance factor. */
function bendAt(response: readonly LearntDose[], k: number): number {
  if (k === 0 || k === response.length - 1) return 0;
  const [before, here, after] = [k - 1, k, k + 1].map((each) => response[each].luminance);
  return Math.abs(before - 2 * here + after);
}

/** What a plain power would make of the same codes, as a factor on the luminance. */
function byPlainPower(luminance: number, { bare, bareLight }: UnknownCamera): number {
  const codeOf = (share: number): number => srgbFromLinear(Math.min(1, Math.max(0, share * bareLight)));
  const share = luminance / bare;
  const other = (codeOf(share) / codeOf(1)) ** PLAIN_POWER / share;
  return Number.isFinite(other) ? other : 1;
}
