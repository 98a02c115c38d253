import * as z from "zod";
import { MAX_LINES_PER_INCH } from "../core/density-limits.js";
import { linesPerInchFromPitchMm, MM_PER_INCH } from "../core/units.js";
import { fieldsOf, group } from "./group.js";
import { cardSize, number } from "./kinds.js";
import { checkOptions } from "./option-error.js";
import { resolveOptions } from "./options.js";
import { spotOf } from "./spot-on-work.js";
import { prepareTable } from "./tables.js";
import { strict, whole } from "./takes.js";

const SIZE_WORDS = "20 to 300 mm for the width and for the height, such as 80x60";
const DOSE_WORDS = "a factor of 0.1 to 10: 1.5";
const MAX_SEED = 9999;

const cardEntries = group("Card", {
  sizeMm: cardSize(
    "--size <size>",
    strict(
      ["widthMm", "heightMm"],
      z.number(SIZE_WORDS).min(20, SIZE_WORDS).max(300, SIZE_WORDS),
      SIZE_WORDS,
    ).default({ widthMm: 80, heightMm: 60 }),
    "width x height of the card: 80x60, or 40x30 where material is scarce",
    { otherwise: "80x60mm" },
  ),
  doseFactor: number(
    "--dose <factor>",
    z.number(DOSE_WORDS).min(0.1, DOSE_WORDS).max(10, DOSE_WORDS).optional(),
    "dose over that of your first card, for a card to read beside it: 1.5 is half as much power again, or as much more passes, or as much slower",
  ),
  seed: number("--seed <n>", whole(0, MAX_SEED).default(1), "scatters the patches anew, for a second card"),
});

const { linesPerInch, linesPerInchAlong, spotMm, material, levels } = prepareTable;
const { speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay } = prepareTable;

/** Lines to a spot of the default density: every other line is then an even half dose (ripple 1.4 %). */
const LINES_PER_SPOT = 4;
/** Below it the smallest patches have too few pixels for the patterns: 24 in 1.8 mm. */
const LEAST_LINES_PER_INCH = MM_PER_INCH / (1.8 / 24);

/** Options of the card itself, and those that it shares with `prepare`. */
export const cardTable = {
  ...cardEntries,
  linesPerInch: {
    ...linesPerInch,
    otherwise: "four lines to the spot; if your machine has fewer, give the most that it has",
  },
  ...{ linesPerInchAlong, spotMm, material, levels },
  ...{ speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay },
};

export const cardSchema = z.strictObject(fieldsOf(cardTable));

/** Options of `testCard`. Every field is optional. */
export type CardOptions = z.input<typeof cardSchema>;

/** Check a caller's options. Throws what `resolveOptions` throws. */
export function resolveCard(options: CardOptions) {
  const { sizeMm, seed, doseFactor, ...rest } = checkOptions(cardSchema, options);
  const linesPerInch = rest.linesPerInch ?? cardLinesPerInch(spotOf(rest.spotMm).acrossMm);
  return {
    ...{ sizeMm, seed, doseFactor, linesPerInch, linesPerInchAlong: rest.linesPerInchAlong ?? linesPerInch },
    isSpeedGiven: options.speedMmPerS !== undefined,
    resolved: resolveOptions({ ...rest, linesPerInch }),
  };
}

/** The density of a card for a spot: whole lines per inch. */
function cardLinesPerInch(spotMm: number): number {
  const wanted = Math.max(LINES_PER_SPOT * linesPerInchFromPitchMm(spotMm), LEAST_LINES_PER_INCH);
  return Math.min(MAX_LINES_PER_INCH, Math.ceil(wanted - 1e-9));
}
