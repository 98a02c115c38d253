import { type BeamPath, lagLengthMm, lossLengthMm } from "../core/spot.js";
import type { Footprint } from "../core/surface-model.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { type Burst, burstProfile, gaussianDensity } from "./line-profile.js";

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

/** A line that a beam travels. */
export interface FootprintLine {
  /** 1 if the beam travels to the right, −1 to the left. */
  readonly direction: 1 | -1;
  /** Shift of the line along itself. */
  readonly shiftMm: number;
  /** Whether a halftone decides its pixels against the direction of travel. */
  readonly decidedBackwards: boolean;
}

/**
 * Dose of one burned pixel (section 2) at the samples that it reaches, in whole numbers. The dose beyond the end is added to the
 * rest in proportion, so a solid fill still has dose 1.
 */
export function spotFootprint(
  { pitch, spot, motion }: BeamPath,
  { samplesAlong, samplesAcross, doseOne }: FootprintGrid,
  { direction, shiftMm, decidedBackwards }: FootprintLine,
): Footprint {
  const sigmaAlongMm = sigmaMmFromSpotDiameterMm(spot.alongMm);
  const sigmaAcrossMm = sigmaMmFromSpotDiameterMm(spot.acrossMm);
  const lagMm = lagLengthMm(motion);
  const lossMm = lossLengthMm(motion);
  const { goesOn, begins } = burstsAdded(pitch.alongMm, lossMm, decidedBackwards);
  const moreMm = 6 * lagMm + Math.abs(shiftMm) + Math.abs(lossMm);
  const reachAlong = Math.min(MAX_REACH_PX, reachPx(pitch.alongMm, sigmaAlongMm, moreMm));
  const profileAlong = (burst: Burst) =>
    profile(samplesAlong, reachAlong, (px) =>
      burstProfile(direction * (px * pitch.alongMm - shiftMm), burst, sigmaAlongMm, lagMm),
    );
  const along = profileAlong(goesOn);
  const alongAtFirst = lossMm === 0 ? along : profileAlong(begins);
  const across = profile(
    samplesAcross,
    reachPx(pitch.acrossMm, sigmaAcrossMm, 0),
    (px) => pitch.acrossMm * gaussianDensity(px * pitch.acrossMm, sigmaAcrossMm),
  );
  const minDose = MIN_DOSE_SHARE * along.peak * across.peak;
  const taps: { x: number; y: number; dose: number; atFirst: number }[] = [];
  for (const [y, acrossDose] of across.doses) {
    along.doses.forEach(([x, alongDose], k) => {
      const dose = alongDose * acrossDose;
      const atFirst = alongAtFirst.doses[k][1] * acrossDose;
      if (Math.max(dose, atFirst) >= minDose) taps.push({ x, y, dose, atFirst });
    });
  }
  const scale = (doseOne * samplesAlong * samplesAcross) / taps.reduce((sum, { dose }) => sum + dose, 0);
  return {
    along: Int32Array.from(taps, ({ x }) => x),
    across: Int32Array.from(taps, ({ y }) => y),
    dose: Int32Array.from(taps, ({ dose }) => Math.round(scale * dose)),
    ...(lossMm !== 0 && { begins: Int32Array.from(taps, ({ atFirst }) => Math.round(scale * atFirst)) }),
  };
}

/**
 * What a burst gains by one more pixel, from the centre of the pixel in the direction of travel, if the source starts `lossMm`
 * later than it stops. With the pixel at its end, the burst ends later. With the pixel at its start, it starts earlier.
 */
function burstsAdded(pitchMm: number, lossMm: number, atStart: boolean): { goesOn: Burst; begins: Burst } {
  const [fromMm, toMm] = [-pitchMm / 2, pitchMm / 2];
  const whole = { fromMm, toMm };
  if (lossMm < 0) {
    const late = { fromMm: fromMm - lossMm, toMm: toMm - lossMm };
    return { goesOn: atStart ? whole : late, begins: { fromMm, toMm: toMm - lossMm } };
  }
  const lostMm = lostPxOf(pitchMm, lossMm) * pitchMm;
  if (!atStart) return { goesOn: whole, begins: { fromMm: fromMm + lossMm - lostMm, toMm } };
  return {
    goesOn: { fromMm: fromMm + lossMm, toMm: toMm + lossMm },
    begins: { fromMm: fromMm + lossMm, toMm: toMm + lostMm },
  };
}

/** Whole pixels that a burst loses. */
export const lostPxOf = (pitchMm: number, lossMm: number): number =>
  Math.floor(Math.max(0, lossMm) / pitchMm);

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
