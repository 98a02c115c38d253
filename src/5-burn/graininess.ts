import { lightnessFromLuminance } from "../core/physics/lightness.js";
import { cyclesPerDegreeFromPerMm, eyeModulation } from "../core/physics/modulation.js";
import type { Pitch } from "../core/plane.js";
import type { Viewing } from "./eye-filter.js";
import { PowerSpectrum } from "./power-spectrum.js";

/**
 * Graininess of a flat tint, in L*: the rms of its lightness fluctuation as the eye sees it. The power spectrum of the luminance
 * factor is weighted by the square of the modulation of the eye and summed over all frequencies but 0. The root times dL*⁄dY at
 * the mean gives L*.
 *
 * The method is that of R. P. Dooley and R. Shaw ("Noise perception in electrophotography", J. Appl. Photogr. Eng. 5(4), 190–196
 * (1979)). They use density and their own visual transfer function. Here the eye is that of the visual error (R. Näsänen, 1984),
 * and lightness replaces density and its correction. The result is an rms like the visual error: about 1 is just noticeable.
 *
 * @param luminance factors of the tint, row-major
 * @param columns @param rows powers of two
 */
export function graininess(
  luminance: ArrayLike<number>,
  columns: number,
  rows: number,
  pitch: Pitch,
  { distanceMm, luminanceCdPerM2 }: Viewing,
): number {
  let mean = 0;
  for (let i = 0; i < luminance.length; i++) mean += luminance[i];
  mean /= luminance.length;
  const power = new PowerSpectrum(columns, rows).of({ data: luminance, from: 0, stride: columns }, mean);
  let variance = 0;
  for (let y = 0; y < rows; y++) {
    const across = Math.min(y, rows - y) / (rows * pitch.acrossMm);
    for (let x = 0; x < columns; x++) {
      if (x === 0 && y === 0) continue;
      const perMm = Math.hypot(Math.min(x, columns - x) / (columns * pitch.alongMm), across);
      const left = eyeModulation(cyclesPerDegreeFromPerMm(perMm, distanceMm), luminanceCdPerM2);
      variance += power[y * columns + x] * left * left;
    }
  }
  return lightnessSlope(mean) * Math.sqrt(variance / (columns * rows));
}

/** Step over which the slope of L* is taken, in luminance factors. */
const STEP = 1e-4;

/** dL*⁄dY */
function lightnessSlope(luminance: number): number {
  const low = Math.max(0, luminance - STEP);
  const high = Math.min(1, luminance + STEP);
  return (lightnessFromLuminance(high) - lightnessFromLuminance(low)) / (high - low);
}
