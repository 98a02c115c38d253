import { addressableLevels, discAreaMm2, discCoverage, gapMm, lineOverlap } from "../core/coverage.js";
import { markedWidthMm, relativeLinePeakDose, rippleExtremes, rippleModulation } from "../core/line-dose.js";
import { doseAtLightnessShare, type Material } from "../core/material.js";
import type { Pitch } from "../core/plane.js";
import type { Spot } from "../core/spot.js";

/** What follows from pitch, spot and material alone: the same for a plan and for a prepared piece. */
export interface DensityFacts {
  /** Bare strip between lines as wide as the measured spot. */
  readonly gapMm: number;
  readonly overlap: number;
  /** Share of a square grid of single dots that hard-edged discs of the spot's size would cover. */
  readonly dotCoverage: number;
  /** Solid dose at unchanged power and speed, over that at the material's reference density; 1 where none is known. */
  readonly solidDoseFactor: number;
  /** Power (or 1 / speed) factor that keeps the reference dose. */
  readonly powerFactor: number;
  /** 1 + spot area / pixel area. */
  readonly levelsPerSpot: number;
  /** Modulation (max − min)/(max + min) of a solid fill's dose across the lines, 0..1. */
  readonly ripple: number;
  /** Dose on the centre of a line of a solid fill, whose mean dose is 1. */
  readonly peakDose: number;
  /** Width that one line marks; see `lineMarkMm`. */
  readonly markWidthMm: number;
  /** Bare strip between lines that wide. */
  readonly markGapMm: number;
}

export function densityFacts(pitch: Pitch, spot: Spot, material: Material): DensityFacts {
  const { alongMm, acrossMm } = pitch;
  const meanSpotMm = Math.sqrt(spot.alongMm * spot.acrossMm);
  const solidDoseFactor = material.referencePitchMm === undefined ? 1 : material.referencePitchMm / acrossMm;
  const pitchOverSpot = acrossMm / spot.acrossMm;
  const markWidthMm = lineMarkMm(spot, material);
  return {
    gapMm: gapMm(acrossMm, spot.acrossMm),
    overlap: lineOverlap(acrossMm, spot.acrossMm),
    dotCoverage: discCoverage(meanSpotMm, alongMm, acrossMm),
    solidDoseFactor,
    powerFactor: 1 / solidDoseFactor,
    levelsPerSpot: addressableLevels(discAreaMm2(meanSpotMm), alongMm, acrossMm),
    ripple: rippleModulation(pitchOverSpot),
    peakDose: rippleExtremes(pitchOverSpot).max,
    markWidthMm,
    markGapMm: gapMm(acrossMm, markWidthMm),
  };
}

/** Share of the whole change in L* at which a steep material counts as marked: half response, as for edges. */
const MARKED = 0.5;

/**
 * Width in mm that a single line marks at the power and speed of the reference density (the matched one where the material
 * names none): on a steep material where its dose passes the threshold, on a gradual one the measured spot, for lack of an
 * edge. It does not depend on the density, since a line does not know of its neighbours. Source: as `markedWidthMm`.
 */
export function lineMarkMm(spot: Spot, material: Material): number {
  if (material.shape === "gradual") return spot.acrossMm;
  const threshold = doseAtLightnessShare(material.response, MARKED);
  const peak = relativeLinePeakDose(referencePitchMm(spot, material), spot.acrossMm);
  return markedWidthMm(spot.acrossMm, peak / threshold);
}

/** Pitch that dose 1 refers to: the material's, or where lines of this spot just touch. */
export function referencePitchMm(spot: Spot, material: Material): number {
  return material.referencePitchMm ?? spot.acrossMm;
}
