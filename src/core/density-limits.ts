import type { Material } from "./material/material.js";
import { linesPerInchFromPitchMm } from "./units.js";

/** Limits of the density, in lines per inch. */
export const MIN_LINES_PER_INCH = 20;
export const MAX_LINES_PER_INCH = 5080;

/** Default densities of `prepare`, in multiples of the matched density. */
export const DEFAULT_OVERDRIVE = { gradual: 2, steep: 1.15 } as const;

/** Default density of `prepare`: whole lines per inch, within the limits. */
export function defaultLinesPerInch(spotAcrossMm: number, shape: Material["shape"]): number {
  const wanted = Math.round(linesPerInchFromPitchMm(spotAcrossMm) * DEFAULT_OVERDRIVE[shape]);
  return Math.min(MAX_LINES_PER_INCH, Math.max(MIN_LINES_PER_INCH, wanted));
}
