import type { LearntDose } from "../../7-calibration/calibration.js";
import { srgbFromLinear } from "../../core/physics/transfer.js";

/** By which many cameras write light; sRGB differs from it most in the dark (IEC 61966-2-1, 1999). */
const PLAIN_POWER = 2.2;

/**
 * The bands of a response from pictures whose curve nobody knows. They were read as sRGB; the band also takes in what they would say if
 * the camera wrote a plain power of light.
 *
 * @param bare luminance factor of the bare surface
 * @param bareLight its light in the picture, 0..1
 */
export function doubtedResponse(
  response: readonly LearntDose[],
  bare: number,
  bareLight: number,
): LearntDose[] {
  const codeOf = (share: number): number => srgbFromLinear(Math.min(1, Math.max(0, share * bareLight)));
  return response.map((point) => {
    const share = point.luminance / bare;
    const other = (codeOf(share) / codeOf(1)) ** PLAIN_POWER / share;
    if (!Number.isFinite(other)) return point;
    return { ...point, low: point.low * Math.min(1, other), high: point.high * Math.max(1, other) };
  });
}
