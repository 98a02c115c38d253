import type { Reader } from "../../core/reader.js";
import { accelerationWords, speedWords } from "../../core/shown-units.js";
import { listWords } from "../../core/words.js";

/** The motion that a run time is computed with. */
export interface Pace {
  readonly speedMmPerS: number;
  readonly accelerationMmPerS2: number;
  /** Options that nobody gave; others than these two have no effect here. */
  readonly assumed: readonly string[];
  /** True if the surface turns, so that the acceleration is its own. */
  readonly isRound?: boolean;
}

const PACE = ["speedMmPerS", "accelerationMmPerS2"];

/** The options of the motion that nobody gave. */
export const assumedPace = ({ assumed }: Pick<Pace, "assumed">): readonly string[] =>
  PACE.filter((name) => assumed.includes(name));

/** `250 mm/s and an assumed 5000 mm/s²`. A default is called assumed, so that nobody takes it for advice. */
export function paceWords(pace: Pace, { units }: Pick<Reader, "units">): string {
  const [speed, acceleration] = PACE.map((name) => pace.assumed.includes(name));
  const ofSurface = pace.isRound ? " of the turning surface" : "";
  const figures = [
    `${speed ? "an assumed " : ""}${speedWords(pace.speedMmPerS, units)}`,
    `${acceleration && !speed ? "an assumed " : ""}${accelerationWords(pace.accelerationMmPerS2, units)}${ofSurface}`,
  ];
  return figures.join(speed && !acceleration ? ", and your " : " and ");
}

/** What to give instead of a default; undefined if nothing was assumed. */
export function paceAdvice(pace: Pick<Pace, "assumed">, reader: Reader): string | undefined {
  const options = assumedPace(pace).map(reader.option);
  return options.length === 0 ? undefined : `give ${listWords(options, "and")} for your machine's time`;
}

/** Both in one: `an assumed 300 mm/s and 5000 mm/s² (give speedMmPerS and accelerationMmPerS2 for your machine's time)`. */
export function paceWithAdvice(pace: Pace, reader: Reader): string {
  const advice = paceAdvice(pace, reader);
  return `${paceWords(pace, reader)}${advice === undefined ? "" : ` (${advice})`}`;
}

/** What follows a spot that nobody gave. */
export const spotAdvice = ({ assumed }: Pick<Pace, "assumed">, reader: Reader): string =>
  assumed.includes("spotMm") ? ` (assumed; give your own with ${reader.option("spotMm")})` : "";
