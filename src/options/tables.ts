import * as z from "zod";
import { fieldsOf, listed, takenBy } from "./group.js";
import { focusOptions } from "./table/focus.js";
import { halftoneOptions } from "./table/halftone.js";
import { machineOptions } from "./table/machine.js";
import { materialOptions } from "./table/material.js";
import { outputOptions } from "./table/output.js";
import { pictureOptions } from "./table/picture.js";
import { planOnlyOptions } from "./table/plan.js";
import { powerOptions } from "./table/power.js";
import { sizeOptions } from "./table/size.js";
import { toneOptions } from "./table/tone.js";

/** Every option of a piece, in the order of the help. */
const pieceOptions = {
  ...sizeOptions,
  ...pictureOptions,
  ...materialOptions,
  ...halftoneOptions,
  ...toneOptions,
  ...focusOptions,
  ...powerOptions,
  ...machineOptions,
  ...outputOptions,
};

/** The options of each command, by their names in the library. */
export const prepareTable = takenBy("prepare", pieceOptions);
/** Options that `plan` and `prepare` share: all except density and spot. */
const plannedTable = takenBy("plan", pieceOptions);
/** A plan's own entries come first in its help, and count where `prepare` has another of that name. */
export const planTable = { ...planOnlyOptions, ...plannedTable, ...planOnlyOptions };
export const compareTable = listed(takenBy("compare", pieceOptions));

export const prepareSchema = z.strictObject(fieldsOf(prepareTable));
export const plannedSchema = z.object(fieldsOf(plannedTable));
export const planSchema = z.strictObject(fieldsOf(planTable));
export const compareSchema = z.strictObject(fieldsOf(compareTable));

/** Options of `prepare`. Every field is optional. The report shows the defaults that were filled in. */
export type PrepareOptions = z.input<typeof prepareSchema>;
/** Options of `plan`: those of `prepare` except the density, and options for choosing a density. */
export type PlanOptions = z.input<typeof planSchema>;
export type CheckedPlanOptions = Readonly<z.output<typeof planSchema>>;
/** Options of `compare`: those of `prepare`. One or two of them may be lists. */
export type CompareOptions = z.input<typeof compareSchema>;
