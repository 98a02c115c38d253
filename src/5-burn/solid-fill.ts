import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow, packRow } from "../core/packed-bits.js";
import type { Response } from "../core/response.js";
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
  const reach = Math.max(plan.evenLines.reach, plan.oddLines.reach);
  const columns = 2 * reach + 1;
  const rows = 2 * plan.across.reach + 1;
  const line = new Uint8Array(bytesPerPackedRow(columns));
  packRow(new Uint8Array(columns).fill(1), 0, columns, line, 0);
  const out = new Float32Array(columns);
  predictLuminance(
    memory,
    plan,
    response,
    () => line,
    columns,
    rows,
    plan.across.reach,
    plan.across.reach + 1,
    [dose],
    [out],
  );
  return out[reach];
}

/** Ends of the tone scale of a job: bare surface and solid fill. */
export function reachableTones(memory: KernelMemory, plan: ExposurePlan, response: Response): ToneRange {
  const solid = solidLuminance(memory, plan, response);
  return { darkest: Math.min(response.bare, solid), lightest: Math.max(response.bare, solid) };
}
