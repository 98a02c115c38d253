import { DEFAULT_SPREAD } from "../core/spread.js";
import type { TrialBeam } from "./trial-beam.js";

/** What a card may teach of a beam. */
export const UNKNOWNS = ["along", "across", "loss", "lag", "lineShift", "lineExponent"] as const;
/** Of each card after the first: its dose and its spot, over those of the first. `dose0` is of the second card. */
type UnknownOfOther = `dose${number}` | `spot${number}`;
export type Unknown = (typeof UNKNOWNS)[number] | UnknownOfOther;

/** What is believed of an unknown before a card is read. */
interface Prior {
  /** Standard deviation about the starting value. */
  readonly deviation: number;
  /** Furthest values, in standard deviations. */
  readonly low: number;
  readonly high: number;
}

/** Of the logarithm of a spot diameter: 0.5 is a factor of 1.65. */
const SPOT_DEVIATION = 0.5;
export const LAG_DEVIATION_US = 80;
const LOSS_DEVIATION_US = 30;
const LINE_SHIFT_DEVIATION_MM = 0.06;
const EXPONENT_DEVIATION = 0.35;
/** Of the logarithm of a factor between two cards, each of which varies as the defaults of a machine say. */
const OTHER_DOSE_DEVIATION = Math.SQRT2 * DEFAULT_SPREAD.common;
/** A card whose power was set anew for another density or speed: within a factor of two. */
const UNKNOWN_DOSE_DEVIATION = 0.4;
const OTHER_SPOT_DEVIATION = Math.SQRT2 * DEFAULT_SPREAD.spot;
const LINE_EXPONENT_LIMITS = [0.7, 4] as const;

/**
 * The unknowns as numbers on one scale: how many standard deviations of the prior a value lies from the starting value. Diameters go
 * by their logarithm.
 */
export interface UnknownScale {
  readonly names: readonly Unknown[];
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly beamAt: (at: Float64Array) => TrialBeam;
  /** The place of a beam, or the nearest within the limits. */
  readonly placeOf: (beam: TrialBeam) => Float64Array;
  /** The same without an unknown, which has the value of a beam. */
  readonly without: (name: Unknown, held: TrialBeam) => UnknownScale;
  /** The beam with an unknown at its starting value. */
  readonly putBack: (name: Unknown, beam: TrialBeam) => TrialBeam;
}

/** What is believed before the card. */
interface Belief {
  readonly start: TrialBeam;
  readonly speedMmPerS: number;
}

/** Unknowns that lines of one direction may tell of: a shift between directions has no effect there. */
const unknownsOf = ({ oneWay, others }: TrialBeam): readonly Unknown[] => [
  ...UNKNOWNS.filter((name) => name !== "lineShift" || !oneWay),
  ...others.flatMap((_, k): UnknownOfOther[] => [`dose${k}`, `spot${k}`]),
];

/** @param held has the values of all that is not an unknown */
export function unknownScale(
  { start, speedMmPerS }: Belief,
  names = unknownsOf(start),
  held = start,
): UnknownScale {
  const priors = names.map((name) => priorOf(name, start, speedMmPerS * 1e-6));
  return {
    names,
    without: (known, beam) =>
      unknownScale(
        { start, speedMmPerS },
        names.filter((name) => name !== known),
        beam,
      ),
    putBack: (name, beam) => withOffset(name, beam, start, 0),
    low: Float64Array.from(priors, ({ low }) => low),
    high: Float64Array.from(priors, ({ high }) => high),
    placeOf: (beam) =>
      Float64Array.from(names, (name, k) => {
        const { deviation, low, high } = priors[k];
        return Math.min(high, Math.max(low, offsetOf(name, beam, start) / deviation));
      }),
    beamAt: (at) =>
      names.reduce((beam, name, k) => withOffset(name, beam, start, at[k] * priors[k].deviation), held),
  };
}

/** A beam of which an unknown is so far from the start. */
function withOffset(name: Unknown, beam: TrialBeam, start: TrialBeam, off: number): TrialBeam {
  switch (name) {
    case "along":
      return { ...beam, alongMm: start.alongMm * Math.exp(off) };
    case "across":
      return { ...beam, acrossMm: start.acrossMm * Math.exp(off) };
    case "loss":
      return { ...beam, lossMm: start.lossMm + off };
    case "lag":
      return { ...beam, lagMm: Math.max(0, start.lagMm + off) };
    case "lineShift":
      return { ...beam, lineShiftMm: start.lineShiftMm + off };
    case "lineExponent":
      return { ...beam, lineExponent: start.lineExponent + off };
    default: {
      const { of, place } = ofOther(name);
      const factor = start.others[place][of] * Math.exp(off);
      const others = beam.others.map((each, k) => (k === place ? { ...each, [of]: factor } : each));
      return { ...beam, others };
    }
  }
}

/** How far an unknown of a beam is from the start. */
function offsetOf(name: Unknown, beam: TrialBeam, start: TrialBeam): number {
  switch (name) {
    case "along":
      return Math.log(beam.alongMm / start.alongMm);
    case "across":
      return Math.log(beam.acrossMm / start.acrossMm);
    case "loss":
      return beam.lossMm - start.lossMm;
    case "lag":
      return beam.lagMm - start.lagMm;
    case "lineShift":
      return beam.lineShiftMm - start.lineShiftMm;
    case "lineExponent":
      return beam.lineExponent - start.lineExponent;
    default: {
      const { of, place } = ofOther(name);
      return Math.log(beam.others[place][of] / start.others[place][of]);
    }
  }
}

const ofOther = (name: UnknownOfOther) => ({
  of: name.startsWith("dose") ? ("dose" as const) : ("spot" as const),
  place: Number(name.slice(4)),
});

function priorOf(name: Unknown, start: TrialBeam, mmPerUs: number): Prior {
  const within = (deviation: number, value: number, low: number, high: number): Prior => ({
    deviation,
    low: (low - value) / deviation,
    high: (high - value) / deviation,
  });
  switch (name) {
    case "along":
    case "across":
      return { deviation: SPOT_DEVIATION, low: -3, high: 3 };
    case "loss":
      return { deviation: LOSS_DEVIATION_US * mmPerUs, low: -5, high: 5 };
    case "lag":
      return within(LAG_DEVIATION_US * mmPerUs, start.lagMm, 0, 500 * mmPerUs);
    case "lineShift":
      return { deviation: LINE_SHIFT_DEVIATION_MM, low: -5, high: 5 };
    case "lineExponent":
      return within(EXPONENT_DEVIATION, start.lineExponent, ...LINE_EXPONENT_LIMITS);
    default: {
      const { of, place } = ofOther(name);
      const dose = start.others[place].isDoseKnown ? OTHER_DOSE_DEVIATION : UNKNOWN_DOSE_DEVIATION;
      return { deviation: of === "dose" ? dose : OTHER_SPOT_DEVIATION, low: -5, high: 5 };
    }
  }
}
