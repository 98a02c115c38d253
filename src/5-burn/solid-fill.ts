import { bytesPerRow } from "../core/packed-bits.js";
import { levelPowers } from "../core/power-levels.js";
import type { Exposure } from "./exposure.js";
import { predictLuminance } from "./predict.js";
import type { ToneRange } from "./target.js";

/**
 * Mean luminance factor of an infinite solid fill, with ripple and gaps between lines. Line shift and lag have no effect: every
 * line is on throughout.
 *
 * @param dose mean dose of the fill
 */
export const solidLuminance = (exposure: Exposure, dose = 1): number => solidLuminances(exposure, [dose])[0];

/**
 * The same for each power level: a fill at level k of n is a solid fill of dose k/(n − 1).
 *
 * @param dose of a fill at full power
 * @returns [levels] luminance factors, bare surface first
 */
export const levelLuminances = (exposure: Exposure, dose = 1): readonly number[] =>
  solidLuminances(
    exposure,
    Array.from(levelPowers(exposure.plan.levels), (power) => power * dose),
  );

function solidLuminances(exposure: Exposure, factors: readonly number[]): number[] {
  const { evenLines, oddLines, across, levels } = exposure.plan;
  const reach = Math.max(evenLines.reach, oddLines.reach);
  const columns = 2 * reach + 1;
  const line = new Uint8Array(bytesPerRow(columns, levels)).fill(levels === 2 ? 255 : levels - 1);
  const bitmap = { columns, rows: 2 * across.reach + 1, row: () => line };
  const middle = { firstRow: across.reach, endRow: across.reach + 1 };
  const out = factors.map(() => new Float32Array(columns));
  predictLuminance(exposure, bitmap, middle, { factors }, out);
  return out.map((row) => row[reach]);
}

/** Ends of the tone scale of a job: bare surface and solid fill. */
export function reachableTones(exposure: Exposure): ToneRange {
  const { bare } = exposure.response;
  const solid = solidLuminance(exposure);
  return { darkest: Math.min(bare, solid), lightest: Math.max(bare, solid) };
}
