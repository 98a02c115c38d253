import { pchipSlopes } from "../monotone-cubic.js";
import { lightnessFromLuminance } from "../physics/lightness.js";
import { rippleDoses, solidPeakDose } from "../physics/line-dose.js";
import { luminanceFactorAt, type Response } from "./response.js";

/** A solid fill whose line centres get more dose than the response goes. */
export interface Extrapolation {
  /** Last dose of the response. */
  readonly lastDose: number;
  /** Dose on the centres of the fill's lines. */
  readonly peakDose: number;
  /**
   * Change of the fill's tone, in L*, if the response kept its last slope beyond its last dose, to no more than 0..1, instead of
   * staying constant. The luminance is averaged over the fill.
   */
  readonly lightness: number;
}

/**
 * Undefined if no part of a solid fill gets more dose than the response goes. Its mean dose is 1 if its lines add.
 *
 * @param lineExponent see `MaterialData`
 */
export function extrapolationOf(
  response: Response,
  pitchOverSpot: number,
  lineExponent = 1,
): Extrapolation | undefined {
  const ripple = rippleDoses(pitchOverSpot, lineExponent);
  const { points } = response;
  const [lastDose] = points[points.length - 1];
  const peakDose = solidPeakDose(pitchOverSpot, lineExponent);
  if (peakDose <= lastDose) return;
  const slope = lastSlope(response);
  let [constant, continued] = [0, 0];
  for (const dose of ripple) {
    const luminance = luminanceFactorAt(response, dose);
    const beyond = luminance + slope * Math.max(0, dose - lastDose);
    constant += luminance / ripple.length;
    continued += Math.min(1, Math.max(0, beyond)) / ripple.length;
  }
  const lightness = Math.abs(lightnessFromLuminance(continued) - lightnessFromLuminance(constant));
  return { lastDose, peakDose, lightness };
}

/** Slope of the response at its last point. */
function lastSlope({ points }: Response): number {
  const slopes = pchipSlopes(
    points.map(([dose]) => dose),
    points.map(([, luminance]) => luminance),
  );
  return slopes[slopes.length - 1];
}
