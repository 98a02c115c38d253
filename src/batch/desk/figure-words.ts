import { timeNote } from "../../6-report/words/pace-words.js";
import { powerInShort } from "../../6-report/words/power-words.js";
import { lengthNumber, lengthWords, type ShownUnits, speedWords } from "../../core/shown-units.js";
import { durationWords } from "../../core/words.js";
import type { PieceFigures, PiecePower } from "../entry.js";

/** Machine time, size and material: what a row of the list shows. */
export const figuresInShort = (figures: PieceFigures, quantity: number): string =>
  [timeInShort(figures, quantity), sizeInShort(figures)].join(" · ");

/** `12 pieces, about 43 min` */
const timeInShort = ({ seconds }: PieceFigures, quantity: number): string =>
  `${quantity === 1 ? "" : `${quantity} pieces, `}about ${durationWords(quantity * seconds)}`;

/** All figures of a piece. */
export function figuresInFull(figures: PieceFigures, quantity: number): string[] {
  const { units, method, linesPerInch, pxPerMm, visualErrorRms, seconds, power, start } = figures;
  return [
    sizeInShort(figures),
    ...(start === undefined ? [] : [`start ${start}`]),
    `${method === "none" ? "solid artwork" : method} at ${Math.round(linesPerInch)} lines per inch`,
    ...(power ? [powerOf(power, units)] : []),
    ...(pxPerMm > 0 ? [`photo ${pxPerMm.toFixed(1)} px/mm`] : []),
    ...(visualErrorRms === undefined ? [] : [`visual error ${visualErrorRms.toFixed(1)} L*`]),
    `about ${durationWords(seconds)}${timeNote(figures)}`,
    ...(quantity === 1 ? [] : [timeInShort(figures, quantity)]),
  ];
}

export const sizeInShort = ({ widthMm, heightMm, units, material }: PieceFigures): string =>
  `${lengthNumber(widthMm, units)} × ${lengthWords(heightMm, units)} on ${material}`;

function powerOf({ speedMmPerS, isSpeedAssumed, ...power }: PiecePower, units: ShownUnits): string {
  const speed = isSpeedAssumed ? "the speed of your full-tone setting" : speedWords(speedMmPerS, units);
  return `power ${powerInShort({ ...power, speedMmPerS })} at ${speed}`;
}
