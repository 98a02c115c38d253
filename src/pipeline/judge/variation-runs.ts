import type { FieldShares, VariedRuns } from "../../5-burn/variation.js";
import {
  lineAverageShare,
  lineSeenShare,
  localAverageShare,
  localSeenShareOn,
} from "../../core/physics/variation.js";
import type { Spot } from "../../core/spot.js";
import type { Spread } from "../../core/spread.js";
import type { ResolvedOptions } from "../../options/options.js";
import { viewingOf } from "./viewing.js";

/** The runs that a spread asks for. */
export interface PlannedRuns {
  /** Common dose factors of the piece's own exposure, nominal first. */
  readonly doses: readonly number[];
  /** Other spots to burn at nominal dose: smaller, larger. Empty if the spot part is 0. */
  readonly spots: readonly Spot[];
  /** Where each run stands among all predictions: the doses, then the spots. */
  readonly runs: VariedRuns;
}

/** A random field is followed best by the slope between doses at √3 times its deviation (Gauss–Hermite nodes). */
const NODE = Math.sqrt(3);
/** The common runs serve for the slope if they are no further from those nodes than this factor. */
const MAX_STEP_RATIO = 2;
/** A smaller step drowns in the rounding of single precision. */
const MIN_STEP = 1e-3;
/** Step of the slope if no field needs one. */
const ANY_STEP = 0.05;

/** @param spot of the machine */
export function plannedRuns({ common, local, line, spot: spotPart }: Spread, spot: Spot): PlannedRuns {
  const step = Math.max(MIN_STEP, NODE * Math.max(local, line) || common || ANY_STEP);
  const shared = common >= MIN_STEP && Math.max(step / common, common / step) <= MAX_STEP_RATIO;
  const around = (part: number): [number, number] => [1 - part, 1 + part];
  const commonDoses = common > 0 ? around(common) : [];
  const slopeDoses = shared ? [] : around(step);
  const doses = [1, ...commonDoses, ...slopeDoses];
  const scaled = (factor: number): Spot => ({
    alongMm: factor * spot.alongMm,
    acrossMm: factor * spot.acrossMm,
  });
  return {
    doses,
    spots: spotPart > 0 ? around(spotPart).map(scaled) : [],
    runs: {
      ...(common > 0 && { common: [1, 2] }),
      slope: { first: shared ? 1 : doses.length - 2, factors: around(shared ? common : step) },
      ...(spotPart > 0 && { spot: [doses.length, doses.length + 1] }),
    },
  };
}

/** Share of the variance of a line's dose that a point of a solid fill gets, where Gaussian lines add up: p/(√π·c), c = d/2. */
const solidPointShare = (pitchMm: number, spotMm: number): number =>
  (2 * pitchMm) / (Math.sqrt(Math.PI) * spotMm);

/** Size of a whole piece. */
export interface PieceSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** How much of the random parts of a spread the eye sees on this piece, and how much is left in the mean over it. */
export function fieldShares(
  options: Pick<ResolvedOptions, "pitch" | "spot" | "spread" | "viewDistanceMm">,
  { widthMm, heightMm }: PieceSize,
): Readonly<Record<"local" | "line", FieldShares>> {
  const { pitch, spot, spread } = options;
  const { distanceMm, luminanceCdPerM2 } = viewingOf(options);
  const { localLengthMm } = spread;
  return {
    local: {
      seen: localSeenShareOn({ widthMm, heightMm }, localLengthMm, distanceMm, luminanceCdPerM2),
      average: localAverageShare(widthMm, heightMm, localLengthMm),
      point: 1,
    },
    line: {
      seen: lineSeenShare(pitch.acrossMm, spot.acrossMm, distanceMm, luminanceCdPerM2),
      average: lineAverageShare(heightMm, pitch.acrossMm, spot.acrossMm),
      // A mid-tone burns half of the pixels, so half as many lines as in a fill give a point its dose; at least one.
      point: Math.min(1, 2 * solidPointShare(pitch.acrossMm, spot.acrossMm)),
    },
  };
}
