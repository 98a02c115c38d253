import type { KernelMemory } from "../core/kernel-memory.js";
import type { Response } from "../core/material/response.js";
import { bytesPerRow } from "../core/packed-bits.js";
import { levelPowers } from "../core/power-levels.js";
import type { ExposurePlan } from "./exposure-plan.js";
import { predictLuminance } from "./predict.js";
import type { ToneRange } from "./target.js";

/**
 * Mean luminance factor of an infinite solid fill, ripple and gaps between lines included. Line shift and lag do not
 * matter: every line is on throughout.
 *
 * @param dose mean dose of the fill
 */
export function solidLuminance(
  memory: KernelMemory,
  plan: ExposurePlan,
  response: Response,
  dose = 1,
): number {
  return solidLuminances(memory, plan, response, [dose])[0];
}

/**
 * The same of each power level: a fill at level k of n is a solid fill of dose k/(n − 1).
 *
 * @param dose of a fill at full power
 * @returns [plan.levels] luminance factors, bare surface first
 */
export function levelLuminances(
  memory: KernelMemory,
  plan: ExposurePlan,
  response: Response,
  dose = 1,
): readonly number[] {
  return solidLuminances(
    memory,
    plan,
    response,
    Array.from(levelPowers(plan.levels), (power) => power * dose),
  );
}

function solidLuminances(
  memory: KernelMemory,
  plan: ExposurePlan,
  response: Response,
  doses: readonly number[],
): number[] {
  const reach = Math.max(plan.evenLines.reach, plan.oddLines.reach);
  const columns = 2 * reach + 1;
  const rows = 2 * plan.across.reach + 1;
  const line = new Uint8Array(bytesPerRow(columns, plan.levels)).fill(
    plan.levels === 2 ? 255 : plan.levels - 1,
  );
  const out = doses.map(() => new Float32Array(columns));
  predictLuminance(
    memory,
    plan,
    response,
    () => line,
    columns,
    rows,
    plan.across.reach,
    plan.across.reach + 1,
    doses,
    out,
  );
  return out.map((row) => row[reach]);
}

/** Ends of the tone scale of a job: bare surface and solid fill. */
export function reachableTones(memory: KernelMemory, plan: ExposurePlan, response: Response): ToneRange {
  const solid = solidLuminance(memory, plan, response);
  return { darkest: Math.min(response.bare, solid), lightest: Math.max(response.bare, solid) };
}
