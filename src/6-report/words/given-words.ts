import { type GivenBy, TYPED } from "../../core/reader.js";
import { listWords } from "../../core/words.js";

/** Names of the machine's figures in a sentence. */
const NAMES: Readonly<Record<string, string>> = {
  spotMm: "spot",
  spread: "spread",
  doseSpread: "dose spread",
  firingLagUs: "firing lag",
  firingLossUs: "firing loss",
  lineShiftMm: "line shift",
  oneWay: "direction",
  speedMmPerS: "speed",
  accelerationMmPerS2: "acceleration",
  linesPerInchOffered: "densities offered",
};

/**
 * `spot and firing lag from the machine file mine.json; speed from the command line`. Undefined if everything was typed: then the
 * user knows.
 */
export function givenByWords(givenBy: GivenBy = {}): string | undefined {
  const places = [...new Set(Object.values(givenBy))];
  if (places.every((place) => place === TYPED)) return undefined;
  const namesFrom = (place: string): string[] =>
    Object.entries(givenBy).flatMap(([option, from]) => (from === place ? [NAMES[option] ?? option] : []));
  return places.map((place) => `${listWords(namesFrom(place), "and")} from ${place}`).join("; ");
}
