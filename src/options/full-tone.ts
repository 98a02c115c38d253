import type { Material } from "../core/material/material.js";
import type { FullTone } from "../core/physics/power.js";
import { refusal } from "../core/refusals/refusals.js";
import { pitchMmFromLinesPerInch } from "../core/units.js";
import type { PrepareOptions } from "./tables.js";

/** What counts where the option does not say where it was found. */
interface Elsewhere {
  /** Its reference density comes first. */
  readonly material: Material;
  /** Of a density that the user gave. A default would move with spot and material. */
  readonly pitchMm: number | undefined;
  readonly speedMmPerS: number;
}

/** The user's full-tone setting; undefined if it is not given. Throws `OPTION_CONFLICT` if its density is not known. */
export function fullToneOf(
  given: PrepareOptions["powerPercent"],
  elsewhere: Elsewhere,
): FullTone | undefined {
  if (given === undefined) return undefined;
  const {
    percent,
    linesPerInch,
    speedMmPerS = elsewhere.speedMmPerS,
  } = typeof given === "number" ? { percent: given } : given;
  const { material } = elsewhere;
  const pitchMm =
    linesPerInch === undefined
      ? (material.referencePitchMm ?? elsewhere.pitchMm)
      : pitchMmFromLinesPerInch(linesPerInch);
  if (pitchMm === undefined) {
    throw refusal("power-without-any-density", { material: material.name, percent }, { received: given });
  }
  const isNamed = typeof given === "object" && given.speedMmPerS !== undefined;
  return Object.freeze({ percent, pitchMm, speedMmPerS, ...(isNamed && { isSpeedNamed: true }) });
}
