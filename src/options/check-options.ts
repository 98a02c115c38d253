import * as z from "zod";
import { cardTable } from "./card-options.js";
import { fieldsOf } from "./group.js";
import { checkOptions } from "./option-error.js";
import { resolveOptions } from "./options.js";
import { prepareTable } from "./tables.js";

/** Room for the code, a small photo and each step of the wedge some nine times. */
const DEFAULT_SIZE_MM = { widthMm: 70, heightMm: 45 };

const { seed: _seed, doseFactor: _dose, ...shared } = cardTable;
const { linesPerInch, method, screenLinesPerInch, screenAngleDeg } = prepareTable;
const { firingLagUs, firingLossUs, lineShiftMm, spread, viewDistanceMm } = prepareTable;
const { powerPercent, passes } = prepareTable;

/** Options of a check card: those of the job that it stands for. */
export const checkTable = {
  ...shared,
  linesPerInch,
  ...{ method, screenLinesPerInch, screenAngleDeg },
  ...{ firingLagUs, firingLossUs, lineShiftMm, spread, viewDistanceMm },
  ...{ powerPercent, passes },
};

/** What the command line takes for a card of either kind. A test card does not use all of it, nor does a check card. */
export const cardCommandTable = {
  ...cardTable,
  ...{ method, screenLinesPerInch, screenAngleDeg },
  ...{ firingLagUs, firingLossUs, lineShiftMm, spread, viewDistanceMm },
  ...{ powerPercent, passes },
};

export const cardCommandSchema = z.strictObject(fieldsOf(cardCommandTable));

const checkSchema = z.strictObject(fieldsOf(checkTable));

/** Options of `checkCard`. Every field is optional; the material and the machine are those that a test card taught. */
export type CheckCardOptions = z.input<typeof checkSchema>;

/** Check a caller's options. Throws what `resolveOptions` throws. */
export function resolveCheck(options: CheckCardOptions) {
  const { sizeMm, ...rest } = checkOptions(checkSchema, options);
  return {
    sizeMm: options.sizeMm === undefined ? DEFAULT_SIZE_MM : sizeMm,
    /** As `prepare` takes them. */
    job: rest,
    isSpeedGiven: options.speedMmPerS !== undefined,
    resolved: resolveOptions(rest),
  };
}
