import * as z from "zod";
import { fieldsOf, group } from "./group.js";
import { number, word } from "./kinds.js";
import { checkOptions } from "./option-error.js";
import { resolveOptions } from "./options.js";
import { prepareTable } from "./tables.js";

const BARE_WORDS = "a luminance factor, above 0 and no more than 1: 0.62";
const NAME_WORDS = "a name for the files: letters, digits, spaces, dots, - and _";

const readingEntries = group("Reading", {
  bareLuminance: number(
    "--bare <luminance>",
    z.number(BARE_WORDS).positive(BARE_WORDS).max(1, BARE_WORDS).optional(),
    "measured luminance factor of the bare surface: 0.62",
    { otherwise: "that of --material" },
  ),
  paperLuminance: number(
    "--paper <luminance>",
    z.number(BARE_WORDS).positive(BARE_WORDS).max(1, BARE_WORDS).optional(),
    "luminance factor of plain white paper that lies beside the card in the picture, for that of the bare surface: 0.85",
    { otherwise: "no paper" },
  ),
  name: word(
    "--name <name>",
    z
      .string(NAME_WORDS)
      .regex(/^[\p{L}\p{N}][\p{L}\p{N} ._-]{0,60}$/u, NAME_WORDS)
      .default("mine"),
    "name of the material and the machine, and of their files",
  ),
});

const { spotMm, material, speedMmPerS } = prepareTable;
const { firingLagUs, firingLossUs, lineShiftMm, spread } = prepareTable;

/** Options of reading a card: what was believed before. */
export const calibrateTable = {
  ...readingEntries,
  ...{ material, spotMm, speedMmPerS, firingLagUs, firingLossUs, lineShiftMm, spread },
};

export const calibrateSchema = z.strictObject(fieldsOf(calibrateTable));

/** Options of `calibrate`. Every field is optional. */
export type CalibrateOptions = z.input<typeof calibrateSchema>;

/** Check a caller's options. Throws what `resolveOptions` throws. */
export function resolveCalibration(options: CalibrateOptions) {
  const { bareLuminance, paperLuminance, name, ...rest } = checkOptions(calibrateSchema, options);
  return {
    ...{ bareLuminance, paperLuminance },
    name,
    isSpeedGiven: options.speedMmPerS !== undefined,
    resolved: resolveOptions(rest),
  };
}
