import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import type { PlanRow } from "../../6-report/plan.js";
import type { IdleOption } from "../../options/option.js";
import type { ResolvedOptions } from "../../options/options.js";
import { type CheckedPlanOptions, conditionalInPlan, type PlanOptions } from "../../options/plan-options.js";
import { idleOptions } from "../../pipeline/describe/idle-options.js";

/**
 * The options that have no effect on any row of a plan.
 *
 * @param checked the same options with defaults filled in
 * @param piece options of one of the pieces
 */
export function idleInPlan(
  options: PlanOptions,
  checked: CheckedPlanOptions,
  piece: ResolvedOptions,
  rows: readonly PlanRow[],
): readonly IdleOption[] {
  const isComputed = checked.focalLengthMm !== undefined;
  const uses = rows.flatMap(({ method }) => (method === undefined ? [] : findHalftoneMethod(method).uses));
  return idleOptions(conditionalInPlan(options), piece, uses, {
    ...(checked.kind !== "photo" && { tones: false, "automatic-levels": false }),
    optics: isComputed,
    defocus: isComputed || checked.defocusMm !== 0,
    "no-tones-asked": checked.tones === undefined,
  });
}
