import type { Viewing } from "../../5-burn/eye-filter.js";
import { doseSpreadOf, type Spread } from "../../core/spread.js";
import type { ResolvedOptions } from "../../options/options.js";

/** Luminance that the eye is adapted to when it looks at a piece in the hand, cd/m². */
const ADAPTED_CD_PER_M2 = 10;

export function viewingOf(options: ResolvedOptions): Viewing {
  return { distanceMm: options.viewDistanceMm, luminanceCdPerM2: ADAPTED_CD_PER_M2 };
}

/** The doses of the process spread, nominal first. */
export function spreadDoses(spread: Spread): number[] {
  const half = doseSpreadOf(spread);
  return [1, 1 - half, 1 + half];
}
