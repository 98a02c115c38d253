import { fractionCode } from "../core/burn-fraction.js";
import type { PackedBitmap } from "../core/packed-bits.js";
import type { Exposure } from "./exposure.js";
import { predictBitmap } from "./predict.js";

/** Halftones a plane of burn fractions (integer codes, row-major). The burn stage does not know the methods. */
export type HalftoneFunction = (fractions: Int16Array, columns: number, rows: number) => PackedBitmap;

/** Size of a flat patch and of the border outside every mean, in pixels. The border is wider if the spot reaches further. */
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
  /** With the border, `marginPx` wide on every side. */
  readonly bitmap: PackedBitmap;
  readonly marginPx: number;
}

/**
 * Engraves a flat patch of one burn fraction in the model. The border is left out: there the halftone has not settled, and the
 * spot has no neighbours.
 *
 * @param fraction 0..1
 * @param doseFactors multiples of the nominal dose
 */
export function burnFlatPatch(
  exposure: Exposure,
  halftone: HalftoneFunction,
  fraction: number,
  size: PatchSize,
  doseFactors: readonly number[],
): BurnedPatch {
  const { plan } = exposure;
  const marginPx = Math.max(size.marginPx, plan.across.reach, plan.evenLines.reach, plan.oddLines.reach);
  const columns = size.columns + 2 * marginPx;
  const rows = size.rows + 2 * marginPx;
  const bitmap = halftone(new Int16Array(columns * rows).fill(fractionCode(fraction)), columns, rows);
  const inner = { firstRow: marginPx, endRow: marginPx + size.rows };
  const whole = predictBitmap(exposure, bitmap, doseFactors, inner);
  const planes = whole.map((plane) => withoutSides(plane, columns, size.rows, marginPx));
  return { columns: size.columns, rows: size.rows, planes, bitmap, marginPx };
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
