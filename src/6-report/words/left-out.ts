import type { SpotpitchError } from "../../core/errors.js";
import type { Reader } from "../../core/reader.js";
import { type RefusalData, sayRefusal } from "../../core/refusals/refusals.js";
import { densityWords } from "../../core/words.js";
import type { Comparison } from "../comparison.js";

type Id = "method-flat-only" | "method-spot-too-wide" | "method-grid" | "method-levels";

/** Why a comparison leaves a method out, shorter than the refusal of a method that the user named. */
const reasons: { readonly [K in Id]: (data: RefusalData<K>, reader: Reader) => string } = {
  "method-flat-only": () => "it is for flat pieces, and this one goes round",
  "method-spot-too-wide": ({ maxPx, spotPx }) =>
    `it takes spots up to ${maxPx} pixels wide, and here the spot is ${spotPx.toFixed(1)} pixels wide`,
  "method-grid": ({ min, max, linesPerInchAlong }, reader) =>
    `it needs lines ${min.toFixed(2)} to ${max.toFixed(2)} times as far apart as the pixels along them: ${reader.setting("linesPerInchAlong", Math.round(linesPerInchAlong))}`,
  "method-levels": ({ levels }) => `it burns dots that are on or off, and cannot use ${levels} power levels`,
};

/** The reason in words. */
export function sayLeftOut(error: SpotpitchError, reader: Reader): string {
  const { refusal } = error;
  if (!refusal || !Object.hasOwn(reasons, refusal.id)) return sayRefusal(error, reader);
  const say: (data: never, reader: Reader) => string = reasons[refusal.id as Id];
  return say(refusal.data as never, reader);
}

/** Each method that was left out with its reason; with its density, if the comparison has several. */
export function leftOutWords({ candidates, leftOut }: Pick<Comparison, "candidates" | "leftOut">): string[] {
  const densities = new Set(
    [...candidates, ...leftOut].map(({ linesPerInch }) => densityWords(linesPerInch)),
  );
  return leftOut.map(({ method, linesPerInch, reason }) => {
    const where = densities.size > 1 ? ` at ${densityWords(linesPerInch)} lines per inch` : "";
    return `${method}${where}: ${reason}`;
  });
}
