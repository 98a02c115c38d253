import type { Response } from "../core/response.js";
import type { ExposurePlan } from "./exposure-plan.js";
import { predictLuminance } from "./predict.js";

/** Halftones a plane of burn fractions: row-major fractions in, row-major bits out. The burn stage knows no method by name. */
export type HalftoneFunction = (fractions: Float32Array, columns: number, rows: number) => Uint8Array;

/** Size of a flat patch and of the border left out of every mean, in pixels; the border is wider where the spot reaches further. */
export interface PatchSize {
  readonly columns: number;
  readonly rows: number;
  readonly marginPx: number;
}

/** Predicted luminance factors of a flat patch without its border, one plane for each dose factor. */
export interface BurnedPatch {
  readonly columns: number;
  readonly rows: number;
  readonly planes: readonly Float32Array[];
}

/**
 * Engrave a flat patch of one burn fraction in the model. The border, where the halftone has not settled and the spot finds
 * no neighbours, is left out.
 */
export function burnFlatPatch(
  fraction: number,
  size: PatchSize,
  halftone: HalftoneFunction,
  plan: ExposurePlan,
  response: Response,
  doseFactors: readonly number[],
): BurnedPatch {
  const marginPx = Math.max(size.marginPx, plan.across.reach, plan.evenLines.reach, plan.oddLines.reach);
  const columns = size.columns + 2 * marginPx;
  const rows = size.rows + 2 * marginPx;
  const bits = halftone(new Float32Array(columns * rows).fill(fraction), columns, rows);
  const whole = doseFactors.map(() => new Float32Array(columns * size.rows));
  const row = (y: number): Uint8Array => bits.subarray(y * columns, (y + 1) * columns);
  predictLuminance(plan, response, row, columns, rows, marginPx, marginPx + size.rows, doseFactors, whole);
  return {
    columns: size.columns,
    rows: size.rows,
    planes: whole.map((plane) => withoutSides(plane, columns, size.rows, marginPx)),
  };
}

function withoutSides(plane: Float32Array, columns: number, rows: number, marginPx: number): Float32Array {
  const inner = columns - 2 * marginPx;
  const out = new Float32Array(inner * rows);
  for (let y = 0; y < rows; y++) {
    const from = y * columns + marginPx;
    out.set(plane.subarray(from, from + inner), y * inner);
  }
  return out;
}

export function meanOf(plane: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < plane.length; i++) sum += plane[i];
  return sum / plane.length;
}
