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
const LAG_DEVIATION_US = 50;
const LOSS_DEVIATION_US = 20;
const LINE_SHIFT_DEVIATION_MM = 0.04;
const EXPONENT_DEVIATION = 0.25;
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
  /** The same with fewer unknowns: the others keep their starting values. */
  readonly only: (names: readonly Unknown[]) => UnknownScale;
}

/** Unknowns that lines of one direction may tell of: a shift between directions has no effect there. */
const unknownsOf = ({ oneWay, others }: TrialBeam): readonly Unknown[] => [
  ...UNKNOWNS.filter((name) => name !== "lineShift" || !oneWay),
  ...others.flatMap((_, k): UnknownOfOther[] => [`dose${k}`, `spot${k}`]),
];

export function unknownScale(start: TrialBeam, speedMmPerS: number, names = unknownsOf(start)): UnknownScale {
  const priors = names.map((name) => priorOf(name, start, speedMmPerS * 1e-6));
  return {
    names,
    only: (fewer) => unknownScale(start, speedMmPerS, fewer),
    low: Float64Array.from(priors, ({ low }) => low),
    high: Float64Array.from(priors, ({ high }) => high),
    placeOf: (beam) =>
      Float64Array.from(names, (name, k) => {
        const { deviation, low, high } = priors[k];
        return Math.min(high, Math.max(low, offsetOf(name, beam, start) / deviation));
      }),
    beamAt: (at) => {
      const off = (name: Unknown): number => {
        const k = names.indexOf(name);
        return k < 0 ? 0 : at[k] * priors[k].deviation;
      };
      return {
        alongMm: start.alongMm * Math.exp(off("along")),
        acrossMm: start.acrossMm * Math.exp(off("across")),
        lossMm: start.lossMm + off("loss"),
        lagMm: Math.max(0, start.lagMm + off("lag")),
        lineShiftMm: start.lineShiftMm + off("lineShift"),
        oneWay: start.oneWay,
        lineExponent: start.lineExponent + off("lineExponent"),
        others: start.others.map(({ isDoseKnown, dose, spot }, k) => ({
          isDoseKnown,
          dose: dose * Math.exp(off(`dose${k}`)),
          spot: spot * Math.exp(off(`spot${k}`)),
        })),
      };
    },
  };
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
