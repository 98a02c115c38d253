import { type BeamMotion, lagLengthMm, lossLengthMm, type Spot } from "../core/spot.js";

/** What a beam does to a pattern, in lengths: times are lengths at the speed of the card. */
export interface TrialBeam {
  /** 1/e² diameters of the spot. */
  readonly alongMm: number;
  readonly acrossMm: number;
  /** Length that each burst loses at its start; negative: length that it gains at its end. */
  readonly lossMm: number;
  /** Travel in one time constant of the source. */
  readonly lagMm: number;
  /** Shift of odd lines in two-way travel. */
  readonly lineShiftMm: number;
  readonly oneWay: boolean;
  /** q of lines whose doses do not add: dose = (Σ dose_line^q)^(1/q). */
  readonly lineExponent: number;
}

export const trialBeam = (spot: Spot, motion: BeamMotion, lineExponent: number): TrialBeam => ({
  alongMm: spot.alongMm,
  acrossMm: spot.acrossMm,
  lossMm: lossLengthMm(motion),
  lagMm: lagLengthMm(motion),
  lineShiftMm: motion.lineShiftMm,
  oneWay: motion.oneWay,
  lineExponent,
});
