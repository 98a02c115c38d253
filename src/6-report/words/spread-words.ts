import type { Calibration, CalibrationCard, CalibrationSpread, LearntFigure } from "../calibration.js";
import { figureWords } from "./calibration-words.js";

/** A share as a figure in percent. */
const percentWords = ({ value, low, high, learnt }: LearntFigure): string =>
  figureWords({ value: 100 * value, low: 100 * low, high: 100 * high, learnt }, " %", 1);

/** Parts of the variation, each with its name: σ, with its band. */
export const spreadWords = (
  spread: CalibrationSpread,
): readonly (readonly [name: string, words: string])[] => [
  ["Dose, from line to line", percentWords(spread.line)],
  ["Dose, from place to place", percentWords(spread.local)],
  ["Width of blotches", figureWords(spread.localLengthMm, " mm", 1)],
  ["Dose, from piece to piece", percentWords(spread.common)],
  ["Spot, from piece to piece", percentWords(spread.spot)],
];

/** Cards that were read together: code, pictures, dose as it was meant, dose and spot as they came out. */
export const cardRows = ({ cards }: Pick<Calibration, "cards">): string[][] =>
  cards.map((card) => [
    card.code,
    card.files.join(", "),
    meantWords(card),
    factorWords(card.dose),
    factorWords(card.spot),
  ]);

const meantWords = ({ doseFactor, isDoseKnown }: CalibrationCard): string =>
  isDoseKnown ? doseFactor.toFixed(2) : "not known";

const factorWords = (figure: LearntFigure | undefined): string => (figure ? figureWords(figure, "", 3) : "1");

/** A card in one line. */
export const cardLine = ([code, files, meant, dose, spot]: readonly string[]): string =>
  `${code} from ${files}; meant dose ${meant}; beside the first card: dose × ${dose}, spot × ${spot}`;
