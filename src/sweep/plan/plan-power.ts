import type { PlanRow } from "../../6-report/plan.js";
import type { PowerToSet } from "../../6-report/report.js";
import type { Material } from "../../core/material/material.js";
import type { FullTone } from "../../core/physics/power.js";
import type { Reader } from "../../core/reader.js";
import { refusal } from "../../core/refusals/refusals.js";
import { fullToneOf } from "../../options/full-tone.js";
import type { CheckedPlanOptions, PlanLens } from "../../options/plan-options.js";
import { referencePitchMm } from "../../pipeline/describe/density-facts.js";
import { powerToSet } from "../../pipeline/describe/power-to-set.js";

/** The part of a plan's choice that the power depends on. */
interface Powered {
  readonly material: Material;
  readonly options: CheckedPlanOptions;
  readonly lens: PlanLens;
  readonly row: PlanRow;
  /** Names of options whose defaults were taken. */
  readonly assumed: readonly string[];
}

/**
 * Refuses a full-tone setting of an unknown density: a plan has many densities. Throws `OPTION_CONFLICT`.
 */
export function refuseUnplacedPower({ powerPercent }: CheckedPlanOptions, material: Material): void {
  const density = typeof powerPercent === "object" ? powerPercent.linesPerInch : undefined;
  if (powerPercent === undefined || density !== undefined || material.referencePitchMm !== undefined) return;
  throw refusal("power-without-density", { material: material.name }, { received: powerPercent });
}

/**
 * Power of the chosen row: for full tone, or for the wanted shade. A coating is removed by each line on its own, so its power is
 * that of the reference density, with which the width of the mark was computed.
 */
export function planPower({ material, options, lens, row, assumed }: Powered, reader: Reader): PowerToSet {
  const { kind, passes, speedMmPerS, markMm } = options;
  const reference = referencePitchMm(lens.spot, material);
  const fill = {
    material,
    assumed,
    passes,
    speedMmPerS,
    fullTone: plannedFullTone(options, material, row.pitchMm),
  };
  if (kind === "photo") return powerToSet({ ...fill, pitchMm: row.pitchMm }, reader);
  if (kind === "shade") {
    const { dose = 1 } = row.shade ?? {};
    return powerToSet({ ...fill, dose, pitchMm: row.pitchMm, referencePitchMm: reference }, reader);
  }
  if (markMm !== undefined) {
    return { speedMmPerS, passes, message: "the power at which you measured the width of the line" };
  }
  return powerToSet({ ...fill, pitchMm: reference, referencePitchMm: reference }, reader);
}

const plannedFullTone = (
  { powerPercent, speedMmPerS }: CheckedPlanOptions,
  material: Material,
  pitchMm: number,
): FullTone | undefined => fullToneOf(powerPercent, { material, pitchMm, speedMmPerS });
