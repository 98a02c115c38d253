import type { FullTone } from "../core/physics/power.js";
import { pitchMmFromLinesPerInch } from "../core/units.js";
import type { PrepareOptions } from "./tables.js";

/** What counts where the option does not say where it was found. */
interface Elsewhere {
  readonly pitchMm: number;
  readonly speedMmPerS: number;
}

/** The user's full-tone setting; undefined if it is not given. */
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
  const pitchMm = linesPerInch === undefined ? elsewhere.pitchMm : pitchMmFromLinesPerInch(linesPerInch);
  return Object.freeze({ percent, pitchMm, speedMmPerS });
}
