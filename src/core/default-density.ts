import { MAX_LINES_PER_INCH, MIN_LINES_PER_INCH } from "./density-limits.js";
import { linesPerInchFromPitchMm } from "./units.js";

/** Spot diameters of the table below, in mm. */
const SPOTS_MM = [0.05, 0.08, 0.1, 0.115, 0.15, 0.2, 0.3] as const;

/** Tone ranges of the table: those of slate, black anodised aluminium, birch plywood and clear acrylic. */
const TONE_RANGES = [0.546, 0.941, 1.261, 1.91] as const;

/**
 * [tone ranges × spots] Overdrive of the density that a plan finds worth its time on the built-in picture, with default options:
 * `npm run bench:advice -- --only table` computes it anew.
 */
const WORTH_OVERDRIVE = [
  [0.98, 1.19, 1.2, 1.27, 1.61, 1.77, 2.27],
  [1.24, 1.41, 1.31, 1.42, 2.32, 2.52, 2.98],
  [1.17, 1.53, 1.87, 1.97, 2.47, 2.84, 2.98],
  [1.25, 1.8, 2.12, 2.48, 2.87, 2.98, 2.98],
] as const;

/** What the default density depends on. */
interface Surface {
  /** Of its response (see `toneRangeOf`). */
  readonly toneRange: number;
  /** Dose from which the material chars, if it is known. */
  readonly charDose?: number | undefined;
}

/**
 * Default density: the one that `plan` would choose, in whole lines per inch. On a material that chars it is at least so high that
 * the centres of a solid fill's lines do not.
 */
export function defaultLinesPerInch(spotAcrossMm: number, { toneRange, charDose }: Surface): number {
  const [row, spot] = [placeIn(TONE_RANGES, toneRange), placeIn(SPOTS_MM, spotAcrossMm)];
  const along = (k: number): number => between(WORTH_OVERDRIVE[k], spot);
  const worth = along(row.index) * (1 - row.share) + along(row.index + 1) * row.share;
  const wanted = linesPerInchFromPitchMm(spotAcrossMm) * Math.max(worth, charFreeOverdrive(charDose));
  return Math.min(MAX_LINES_PER_INCH, Math.max(MIN_LINES_PER_INCH, Math.round(wanted)));
}

/** Of the densities that a machine offers, the one with the smallest ratio to a density; that itself if it offers any. */
export function nearestOffered(linesPerInch: number, offered: readonly number[] = []): number {
  const ratioTo = (each: number): number => Math.abs(Math.log(each / linesPerInch));
  return offered.length === 0
    ? linesPerInch
    : offered.reduce((best, each) => (ratioTo(each) < ratioTo(best) ? each : best));
}

/** A little over the exact value, for whole lines. */
const CHAR_MARGIN = 1.02;

/**
 * Least overdrive at which the centres of the lines of a solid fill stay below the dose that chars. The dose of a fill ripples by
 * 2·exp(−π²r²/8) at an overdrive of r (first harmonic of a sum of Gaussians).
 */
function charFreeOverdrive(charDose = Number.POSITIVE_INFINITY): number {
  const allowed = (charDose - 1) / 2;
  if (allowed <= 0 || allowed >= 1) return 0;
  return CHAR_MARGIN * Math.sqrt((-8 * Math.log(allowed)) / Math.PI ** 2);
}

interface Place {
  readonly index: number;
  readonly share: number;
}

/** The interval of a rising list in which a value lies, and how far, by logarithms; the ends for a value beyond them. */
function placeIn(list: readonly number[], value: number): Place {
  const last = list.length - 2;
  const above = list.findIndex((each) => each >= value);
  const index = above < 0 ? last : Math.min(last, Math.max(0, above - 1));
  const share = Math.log(value / list[index]) / Math.log(list[index + 1] / list[index]);
  return { index, share: Math.min(1, Math.max(0, share)) };
}

const between = (values: readonly number[], { index, share }: Place): number =>
  values[index] * (1 - share) + values[index + 1] * share;
