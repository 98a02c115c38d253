import type { Report } from "../../6-report/report.js";
import { halfResponseDose } from "../../core/material/half-response.js";
import type { Material } from "../../core/material/material.js";
import { byToneRange } from "../../core/material/tone-range.js";
import {
  addressableLevels,
  discAreaMm2,
  discCoverage,
  gapMm,
  lineOverlap,
} from "../../core/physics/coverage.js";
import {
  markedWidthMm,
  relativeLinePeakDose,
  solidDoseModulation,
  solidPeakDose,
} from "../../core/physics/line-dose.js";
import { doseOfPasses } from "../../core/physics/power.js";
import type { Pitch } from "../../core/plane.js";
import type { Spot } from "../../core/spot.js";

/** Figures that depend only on pitch, spot and material. They are the same for a plan and for a prepared piece. */
export type DensityFacts = Omit<Report["coverage"], "burnFraction">;

export function densityFacts(
  pitch: Pitch,
  spot: Spot,
  material: Material,
  { levels = 2, passes = 1 }: { readonly levels?: number; readonly passes?: number } = {},
): DensityFacts {
  const { alongMm, acrossMm } = pitch;
  const meanSpotMm = Math.sqrt(spot.alongMm * spot.acrossMm);
  const { lineExponent = 1, referencePitchMm = acrossMm } = material;
  const solidDoseFactor = (doseOfPasses(passes, lineExponent) * referencePitchMm) / acrossMm;
  const pitchOverSpot = acrossMm / spot.acrossMm;
  const markWidthMm = lineMarkMm(spot, material);
  return {
    gapMm: gapMm(acrossMm, spot.acrossMm),
    overlap: lineOverlap(acrossMm, spot.acrossMm),
    dotCoverage: discCoverage(meanSpotMm, alongMm, acrossMm),
    solidDoseFactor,
    powerFactor: 1 / solidDoseFactor,
    levelsPerSpot: addressableLevels(discAreaMm2(meanSpotMm), alongMm, acrossMm, levels),
    ripple: solidDoseModulation(pitchOverSpot, lineExponent),
    peakDose: solidPeakDose(pitchOverSpot, lineExponent),
    markWidthMm,
    markGapMm: gapMm(acrossMm, markWidthMm),
  };
}

/**
 * Width in mm that a single line marks at the power and speed of the reference density, or of the matched density if the
 * material names no reference. On a steep material it is the width over which the dose exceeds that of half response. On a gradual
 * one, which has no edge, it is the measured spot, and in between near the border. It does not depend on the density, because it
 * ignores neighbouring lines. Source: as `markedWidthMm`.
 */
export function lineMarkMm(spot: Spot, material: Material): number {
  const peak = relativeLinePeakDose(referencePitchMm(spot, material), spot.acrossMm);
  const steep = markedWidthMm(spot.acrossMm, peak / halfResponseDose(material.curve));
  return byToneRange(material.toneRange, { steep, gradual: spot.acrossMm });
}

/** Pitch that dose 1 refers to: the material's, or the one at which lines of this spot just touch. */
export function referencePitchMm(spot: Spot, material: Material): number {
  return material.referencePitchMm ?? spot.acrossMm;
}
