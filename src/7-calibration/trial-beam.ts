import { type BeamMotion, lagLengthMm, lossLengthMm, type Spot } from "../core/spot.js";
import type { CardBurn, OtherCard } from "./card.js";

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
  /** Of each card after the first: dose over what was meant, and spot diameter, both as factors on those of the first. */
  readonly others: readonly OtherBeam[];
}

export interface OtherBeam extends Pick<OtherCard, "isDoseKnown"> {
  readonly dose: number;
  readonly spot: number;
}

/** @param others cards after the first */
export const trialBeam = (
  spot: Spot,
  motion: BeamMotion,
  lineExponent: number,
  others: readonly OtherCard[] = [],
): TrialBeam => ({
  alongMm: spot.alongMm,
  acrossMm: spot.acrossMm,
  lossMm: lossLengthMm(motion),
  lagMm: lagLengthMm(motion),
  lineShiftMm: motion.lineShiftMm,
  oneWay: motion.oneWay,
  lineExponent,
  others: others.map(({ isDoseKnown }) => ({ isDoseKnown, dose: 1, spot: 1 })),
});

/** The beam as it burned a further card. Times of the machine are lengths at the card's own speed. */
export function beamOnOther(beam: TrialBeam, first: CardBurn, other: OtherCard): TrialBeam {
  const { spot } = beam.others[other.place - 1];
  const faster = other.speedMmPerS / first.speedMmPerS;
  return {
    ...beam,
    alongMm: spot * beam.alongMm,
    acrossMm: spot * beam.acrossMm,
    lossMm: faster * beam.lossMm,
    lagMm: faster * beam.lagMm,
    oneWay: other.oneWay,
  };
}
