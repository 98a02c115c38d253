import * as z from "zod";
import { fieldsOf, group } from "./group.js";
import { size } from "./kinds.js";
import { checkOptions } from "./option-error.js";
import { resolveOptions } from "./options.js";
import { prepareTable } from "./tables.js";
import { between } from "./takes.js";

/** Common practice, no source: large enough to judge, small enough to burn in a minute. */
const DEFAULT_PATCH_MM = 12;

const patchOptions = group("Patch", {
  patchMm: size(
    "--patch <length>",
    between(3, 50, "mm").default(DEFAULT_PATCH_MM),
    "side of the square that is burned",
  ),
});

/** Options that a power test shares with `prepare`: what the dose of a fill and its run time depend on. */
const { linesPerInch, linesPerInchAlong, linesPerInchOffered, spotMm, material } = prepareTable;
const { wavelengthMm, propagationRatio, defocusMm } = prepareTable;
const { speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay, format } = prepareTable;

export const powerTestTable = {
  ...patchOptions,
  ...{ linesPerInch, linesPerInchAlong, linesPerInchOffered, spotMm, material },
  ...{ wavelengthMm, propagationRatio, defocusMm },
  ...{ speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay, format },
};

export const powerTestSchema = z.strictObject(fieldsOf(powerTestTable));

/** Options of `powerTest`. Every field is optional. */
export type PowerTestOptions = z.input<typeof powerTestSchema>;

/** Check a caller's options. Throws what `resolveOptions` throws. */
export function resolvePowerTest(options: PowerTestOptions) {
  const { patchMm, ...rest } = checkOptions(powerTestSchema, options);
  return { patchMm, isSpeedGiven: options.speedMmPerS !== undefined, resolved: resolveOptions(rest) };
}
