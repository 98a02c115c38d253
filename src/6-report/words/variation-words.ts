import type { Spread } from "../../core/spread.js";
import { mmWords } from "../../core/words.js";

/*
 * The variation of a machine in words. A page explains each part of the expected error once, where it first shows it.
 */

export const UNEVENNESS_MEANS = "what you see within the piece: grain, blotches and streaks";
export const TONE_SHIFT_MEANS =
  "all tones lighter or darker: you see it only if you hold a proof beside the piece, and a small change of power corrects it";
/** How both make an expected error. */
export const EXPECTED_MEANS =
  "unevenness and a third of the tone shift, as the root of the sum of their squares";

/** A standard deviation in percent, to two digits: `8.2 %`. */
export const deviationWords = (share: number): string => `${Number((100 * share).toPrecision(2))} %`;

/** All parts: `dose 8 % for the whole piece, 4 % from place to place (over 2 mm), 4 % from line to line; spot 5 %`. */
export const spreadInWords = ({ common, local, localLengthMm, line, spot }: Spread): string =>
  `dose ${deviationWords(common)} for the whole piece, ${deviationWords(local)} from place to place (over ${mmWords(localLengthMm)}), ${deviationWords(line)} from line to line; spot ${deviationWords(spot)}`;

/** The condition under which a detail holds tones; a clause. */
export const heldIfWords = ({ common, local, line }: Spread): string =>
  `the dose differs by ${deviationWords(local)} from place to place and by ${deviationWords(line)} from line to line, at the worst of three doses of the whole piece (${deviationWords(common)} less, as set, ${deviationWords(common)} more)`;

/** The part of the variation that takes most tones from a detail. */
export interface VaryingDose {
  readonly part: "common" | "local" | "line";
  readonly deviation: number;
}

/** `a dose that differs by 4 % from place to place`; a clause. */
export function varyingDoseWords({ part, deviation }: VaryingDose): string {
  const share = deviationWords(deviation);
  const varies = {
    common: `is off by ${share} on the whole piece`,
    local: `differs by ${share} from place to place`,
    line: `differs by ${share} from line to line`,
  };
  return `a dose that ${varies[part]}`;
}
