import { byToneRange } from "./material/tone-range.js";
import { linesPerInchFromPitchMm } from "./units.js";

/** Limits of the density, in lines per inch. */
export const MIN_LINES_PER_INCH = 20;
export const MAX_LINES_PER_INCH = 5080;

/** Default densities of `prepare`, in multiples of the matched density. Between the two, they follow the tone range. */
export const DEFAULT_OVERDRIVE = { gradual: 2, steep: 1.15 } as const;

/** Default density of `prepare`: whole lines per inch, within the limits. */
export function defaultLinesPerInch(spotAcrossMm: number, toneRange: number): number {
  const overdrive = byToneRange(toneRange, DEFAULT_OVERDRIVE);
  const wanted = Math.round(linesPerInchFromPitchMm(spotAcrossMm) * overdrive);
  return Math.min(MAX_LINES_PER_INCH, Math.max(MIN_LINES_PER_INCH, wanted));
}
