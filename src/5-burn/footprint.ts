import { type BeamPath, lagLengthMm } from "../core/spot.js";
import type { Footprint } from "../core/surface-model.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { gaussianDensity, lineProfile } from "./line-profile.js";

/** A footprint ends at this part of its peak: at 3.2 standard deviations, with 0.6 % of the dose beyond. */
const MIN_DOSE_SHARE = Math.exp(-(3.2 ** 2) / 2);

/** Limit of a footprint along the line, however long the lag. Every pixel visits the whole footprint. */
const MAX_REACH_PX = 32;

/** Samples of a pixel along and across, and the integer dose of a solid fill. */
export interface FootprintGrid {
  readonly samplesAlong: number;
  readonly samplesAcross: number;
  readonly doseOne: number;
}

/**
 * Dose of one burned pixel (section 2) at the samples that it reaches, in whole numbers. The dose beyond the end is added to the
 * rest in proportion, so a solid fill still has dose 1.
 *
 * @param direction 1 if the beam travels to the right, −1 to the left
 * @param shiftMm shift of the line along itself
 */
export function spotFootprint(
  { pitch, spot, motion }: BeamPath,
  { samplesAlong, samplesAcross, doseOne }: FootprintGrid,
  direction: 1 | -1,
  shiftMm: number,
): Footprint {
  const sigmaAlongMm = sigmaMmFromSpotDiameterMm(spot.alongMm);
  const sigmaAcrossMm = sigmaMmFromSpotDiameterMm(spot.acrossMm);
  const lagMm = lagLengthMm(motion);
  const along = profile(
    samplesAlong,
    Math.min(MAX_REACH_PX, reachPx(pitch.alongMm, sigmaAlongMm, 6 * lagMm + Math.abs(shiftMm))),
    (px) => lineProfile(direction * (px * pitch.alongMm - shiftMm), pitch.alongMm, sigmaAlongMm, lagMm),
  );
  const across = profile(
    samplesAcross,
    reachPx(pitch.acrossMm, sigmaAcrossMm, 0),
    (px) => pitch.acrossMm * gaussianDensity(px * pitch.acrossMm, sigmaAcrossMm),
  );
  const minDose = MIN_DOSE_SHARE * along.peak * across.peak;
  const taps: { x: number; y: number; dose: number }[] = [];
  for (const [y, acrossDose] of across.doses) {
    for (const [x, alongDose] of along.doses) {
      const dose = alongDose * acrossDose;
      if (dose >= minDose) taps.push({ x, y, dose });
    }
  }
  const scale = (doseOne * samplesAlong * samplesAcross) / taps.reduce((sum, { dose }) => sum + dose, 0);
  return {
    along: Int32Array.from(taps, ({ x }) => x),
    across: Int32Array.from(taps, ({ y }) => y),
    dose: Int32Array.from(taps, ({ dose }) => Math.round(scale * dose)),
  };
}

const reachPx = (pitchMm: number, sigmaMm: number, moreMm: number): number =>
  Math.ceil(0.5 + (4 * sigmaMm + moreMm) / pitchMm);

/** Doses at samples from −reach to +reach pixels, each with its place counted from the pixel's first sample. */
function profile(samples: number, reach: number, doseAt: (px: number) => number) {
  const doses: [at: number, dose: number][] = [];
  for (let at = -reach * samples; at < (reach + 1) * samples; at++) {
    doses.push([at, doseAt((at + 0.5) / samples - 0.5)]);
  }
  return { doses, peak: Math.max(...doses.map(([, dose]) => dose)) };
}
