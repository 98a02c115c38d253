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

/** `250 mm/s and an assumed 5000 mm/s²`. A default is called assumed, so that nobody takes it for advice. */
function paceWords(pace: Pace, { units }: Pick<Reader, "units">): string {
  const [speed, acceleration] = PACE.map((name) => pace.assumed.includes(name));
  const ofSurface = pace.isRound ? " of the turning surface" : "";
  const figures = [
    `${speed ? "an assumed " : ""}${speedWords(pace.speedMmPerS, units)}`,
    `${acceleration && !speed ? "an assumed " : ""}${accelerationWords(pace.accelerationMmPerS2, units)}${ofSurface}`,
  ];
  return figures.join(speed && !acceleration ? ", and your " : " and ");
}

/** The same with what to give instead of a default: `… (give speedMmPerS and accelerationMmPerS2 for your machine's time)`. */
export function paceWithAdvice(pace: Pace, reader: Reader): string {
  const options = PACE.filter((name) => pace.assumed.includes(name)).map(reader.option);
  const advice = options.length === 0 ? "" : ` (give ${listWords(options, "and")} for your machine's time)`;
  return `${paceWords(pace, reader)}${advice}`;
}

/** What follows a run time where there is little room. */
export function timeNote({ assumed }: Pick<Pace, "assumed">): string {
  if (assumed.includes("speedMmPerS")) return " at an assumed speed";
  return assumed.includes("accelerationMmPerS2") ? " at an assumed acceleration" : "";
}

/** What follows a spot that nobody gave. */
export const spotAdvice = ({ assumed }: Pick<Pace, "assumed">, reader: Reader): string =>
  assumed.includes("spotMm") ? ` (assumed; give your own with ${reader.option("spotMm")})` : "";
