/**
 * Modulation transfer of the exposure and of the eye: how much of a sine pattern's modulation is left, 0..1.
 * Frequencies are cycles (line pairs) per mm on the work, or cycles per degree at the eye.
 */

import type { Pitch } from "../plane.js";
import type { BeamMotion, Spot } from "../spot.js";
import {
  arcminutesFromRadians,
  radiansFromArcminutes,
  radiansFromDegrees,
  secondsFromMicroseconds,
} from "../units.js";

/**
 * Blur of the exposure in one direction. Along the scan all four values act. Across it there is no hold and no lag, so
 * `holdMm` and `lagUs` are 0. A 0 switches its factor off.
 */
export interface ExposureBlur {
  /** 1/e² spot diameter in this direction. */
  spotDiameterMm: number;
  /** Length for which one pixel's value is held: the pitch along the line. */
  holdMm: number;
  speedMmPerS: number;
  /** Time constant of the source's first-order lag. */
  lagUs: number;
}

/** Blur of a job's exposure along its lines (spot, pixel hold, firing lag) and across them (spot). */
export function exposureBlurs(
  pitch: Pitch,
  spot: Spot,
  { speedMmPerS, firingLagUs }: BeamMotion,
): { readonly along: ExposureBlur; readonly across: ExposureBlur } {
  return {
    along: { spotDiameterMm: spot.alongMm, holdMm: pitch.alongMm, speedMmPerS, lagUs: firingLagUs },
    across: { spotDiameterMm: spot.acrossMm, holdMm: 0, speedMmPerS: 0, lagUs: 0 },
  };
}

/**
 * Modulation left by a Gaussian spot: exp(−π² d² f²/8).
 * Source: Boreman, *Modulation Transfer Function in Optical and Electro-Optical Systems* (2001).
 */
export function spotModulation(frequencyPerMm: number, spotDiameterMm: number): number {
  return Math.exp(-((Math.PI * spotDiameterMm * frequencyPerMm) ** 2) / 8);
}

/** Modulation left by holding each pixel for a length: |sin(π p f)/(π p f)|. Source: Boreman (2001). */
export function holdModulation(frequencyPerMm: number, holdMm: number): number {
  const phase = Math.PI * holdMm * frequencyPerMm;
  return phase === 0 ? 1 : Math.abs(Math.sin(phase) / phase);
}

/** Modulation left by a source with a first-order lag τ: 1/√(1 + (2π f v τ)²). Source: any text on linear filters. */
export function lagModulation(frequencyPerMm: number, speedMmPerS: number, lagUs: number): number {
  return 1 / Math.hypot(1, 2 * Math.PI * frequencyPerMm * lagLengthMm(speedMmPerS, lagUs));
}

/** Modulation left by spot, hold and lag together: their product. Source: as its factors. */
export function exposureModulation(frequencyPerMm: number, blur: ExposureBlur): number {
  return (
    spotModulation(frequencyPerMm, blur.spotDiameterMm) *
    holdModulation(frequencyPerMm, blur.holdMm) *
    lagModulation(frequencyPerMm, blur.speedMmPerS, blur.lagUs)
  );
}

/**
 * Frequency per mm at which a Gaussian spot leaves the fraction m: √(8 ln(1/m))/(π d).
 * Source: as `spotModulation`.
 */
export function spotLimitPerMm(spotDiameterMm: number, fraction: number): number {
  return Math.sqrt(8 * Math.log(1 / fraction)) / (Math.PI * spotDiameterMm);
}

/**
 * Lowest frequency per mm at which spot, hold and lag together leave the fraction m of the modulation; Infinity
 * without any blur. Not capped by the Nyquist frequency. By convention, limits are stated at m = 0.5 and 0.1.
 *
 * @param fraction m, between 0 and 1, both excluded
 */
export function exposureLimitPerMm(blur: ExposureBlur, fraction: number): number {
  // Each factor is at most 1, so the limit of each factor bounds the root. Up to the first zero of the hold all three
  // factors fall, so bisection finds the only crossing.
  const lagLimitPerMm =
    Math.sqrt(1 / fraction ** 2 - 1) / (2 * Math.PI * lagLengthMm(blur.speedMmPerS, blur.lagUs));
  let high = Math.min(spotLimitPerMm(blur.spotDiameterMm, fraction), 1 / blur.holdMm, lagLimitPerMm);
  if (high === Number.POSITIVE_INFINITY) return high;
  let low = 0;
  for (let middle = high / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (exposureModulation(middle, blur) > fraction) low = middle;
    else high = middle;
  }
  return high;
}

/** Highest frequency per mm that a pitch can carry without aliasing: 1/(2·pitch). Source: sampling theorem. */
export function nyquistPerMm(pitchMm: number): number {
  return 1 / (2 * pitchMm);
}

/** Frequency in cycles per degree of a pattern seen from a distance: f·2D·tan(0.5°). Source: geometry. */
export function cyclesPerDegreeFromPerMm(frequencyPerMm: number, viewDistanceMm: number): number {
  return frequencyPerMm * mmPerDegree(viewDistanceMm);
}

/** Frequency per mm on the work of a frequency in cycles per degree: f/(2D·tan(0.5°)). Source: geometry. */
export function perMmFromCyclesPerDegree(cyclesPerDegree: number, viewDistanceMm: number): number {
  return cyclesPerDegree / mmPerDegree(viewDistanceMm);
}

/** Angle in minutes of arc of a length seen from a distance: 2·atan(length/(2D)). Source: geometry. */
export function visualAngleArcmin(lengthMm: number, viewDistanceMm: number): number {
  return arcminutesFromRadians(2 * Math.atan(lengthMm / (2 * viewDistanceMm)));
}

/**
 * Smallest length in mm that an eye of normal acuity separates, 1 minute of arc: 2D·tan(0.5′).
 * Source: normal acuity as in ISO 8596.
 */
export function acuityMm(viewDistanceMm: number): number {
  return 2 * viewDistanceMm * Math.tan(radiansFromArcminutes(0.5));
}

/**
 * Distance in mm from which an edge that lies up to `toleranceMm` off its place looks smooth: there that is a quarter of a minute
 * of arc. Vernier acuity is finer for long, straight edges side by side. Source: our choice, from print: at 300 mm it allows 0.022
 * mm, half a pixel of 600 per inch.
 */
export const smoothFromMm = (toleranceMm: number): number => (300 * (4 * toleranceMm)) / acuityMm(300);

/** Luminance of a mid-toned surface under 300 lx, in cd/m²: 300 · 0.5 / π. */
export const VIEW_LUMINANCE_CD_PER_M2 = 50;

/**
 * Decay constant k of the eye's modulation in cycles per degree: 0.525·ln(L) + 3.91, L in cd/m².
 * Source: Näsänen, "Visibility of halftone dot textures", IEEE Trans. Syst. Man Cybern. 14, 920 (1984).
 */
export function eyeDecayCyclesPerDegree(luminanceCdPerM2 = VIEW_LUMINANCE_CD_PER_M2): number {
  return 0.525 * Math.log(luminanceCdPerM2) + 3.91;
}

/** Modulation left by the eye: exp(−f/k), k from `eyeDecayCyclesPerDegree`. Source: Näsänen (1984). */
export function eyeModulation(cyclesPerDegree: number, luminanceCdPerM2 = VIEW_LUMINANCE_CD_PER_M2): number {
  return Math.exp(-cyclesPerDegree / eyeDecayCyclesPerDegree(luminanceCdPerM2));
}

/** Length in mm that one degree spans, half of it on each side of the line of sight. */
function mmPerDegree(viewDistanceMm: number): number {
  return 2 * viewDistanceMm * Math.tan(radiansFromDegrees(0.5));
}

/** Length in mm that the spot travels in one time constant. */
function lagLengthMm(speedMmPerS: number, lagUs: number): number {
  return speedMmPerS * secondsFromMicroseconds(lagUs);
}
