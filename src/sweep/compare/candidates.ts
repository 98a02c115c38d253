import { halftoneMethods } from "../../4-halftone/catalogue.js";
import { findHalftoneMethod } from "../../4-halftone/halftone.js";
import type { LeftOut } from "../../6-report/comparison.js";
import type { SpotpitchError } from "../../core/errors.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type CompareOptions, combinations } from "../../options/compare-options.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { misfitOf } from "../../pipeline/burn/choose-method.js";

/** One method of each character: error diffusion, tuned by tone, by a mask, in clumps, on a screen, with feedback of the dose. */
const HANDFUL = [
  "floyd-steinberg",
  "ostromoukhov",
  "blue-noise",
  "green-noise",
  "clustered-dot",
  "dose-feedback",
];

/** A method that does not fit, at one density. */
interface Misfit extends Omit<LeftOut, "reason"> {
  readonly misfit: SpotpitchError;
}

/** The candidates, and what is left out because the method does not fit. */
export function candidatesOf(options: CompareOptions): {
  readonly asked: readonly PrepareOptions[];
  readonly leftOut: readonly Misfit[];
} {
  const named = [options.method ?? HANDFUL].flat();
  const all = named.includes("all");
  const chosenHere = all || options.method === undefined;
  const methods = all ? halftoneMethods.map(({ id }) => id) : named;
  const leftOut = new Map<string, Misfit>();
  const asked = combinations(options, methods).filter((one) => {
    const resolved = resolveOptions(one);
    if (resolved.method === "auto") return true;
    const misfit = misfitOf(findHalftoneMethod(resolved.method), resolved);
    if (!misfit) return true;
    // A method that the user named is refused if it does not suit grid and levels.
    if (!chosenHere) throw misfit;
    const { method, pitch } = resolved;
    const linesPerInch = linesPerInchFromPitchMm(pitch.acrossMm);
    leftOut.set(`${method} ${linesPerInch}`, { method, linesPerInch, misfit });
    return false;
  });
  return { asked, leftOut: [...leftOut.values()] };
}
