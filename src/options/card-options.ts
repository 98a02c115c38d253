import * as z from "zod";
import { type CardDensity, cardDensity } from "../core/card-density.js";
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
    { otherwise: "80x60mm, for a check card 70x45mm" },
  ),
  doseFactor: number(
    "--dose <factor>",
    z.number(DOSE_WORDS).min(0.1, DOSE_WORDS).max(10, DOSE_WORDS).optional(),
    "dose over that of your first card, for a card to read beside it: 1.5 is half as much power again, or as much more passes, or as much slower",
  ),
  seed: number("--seed <n>", whole(0, MAX_SEED).default(1), "scatters the patches anew, for a second card"),
});

const { linesPerInch, linesPerInchAlong, linesPerInchOffered, spotMm, material, levels } = prepareTable;
const { speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay } = prepareTable;

/** Options of the card itself, and those that it shares with `prepare`. */
export const cardTable = {
  ...cardEntries,
  linesPerInch: {
    ...linesPerInch,
    otherwise:
      "four lines to the spot, or the nearest to it that your machine offers; for a check card as in prepare",
  },
  linesPerInchOffered: {
    ...linesPerInchOffered,
    help: "densities that the machine offers, 150,254,300,508: the card gets the smallest that is fine enough, else the largest",
  },
  ...{ linesPerInchAlong, spotMm, material, levels },
  ...{ speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay },
};

export const cardSchema = z.strictObject(fieldsOf(cardTable));

/** Options of `testCard`. Every field is optional. */
export type CardOptions = z.input<typeof cardSchema>;

/** Check a caller's options. Throws what `resolveOptions` throws. */
export function resolveCard(options: CardOptions) {
  const {
    sizeMm,
    seed,
    doseFactor,
    linesPerInchOffered: offered,
    ...rest
  } = checkOptions(cardSchema, options);
  const density = densityOf(rest.linesPerInch, spotOf(rest.spotMm).acrossMm, offered);
  const { linesPerInch } = density;
  return {
    ...{ sizeMm, seed, doseFactor, linesPerInch, linesPerInchAlong: rest.linesPerInchAlong ?? linesPerInch },
    densityReason: density.reason,
    isSpeedGiven: options.speedMmPerS !== undefined,
    resolved: resolveOptions({ ...rest, linesPerInch }),
  };
}

const densityOf = (given: number | undefined, spotMm: number, offered?: readonly number[]): CardDensity =>
  given === undefined ? cardDensity(spotMm, offered) : { linesPerInch: given, reason: "given" };
