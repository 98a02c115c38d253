import { fractionCode } from "../core/burn-fraction.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import { type PackedBitmap, unpackBitmap } from "../core/packed-bits.js";
import { type Bitmap, columnsOf, denseData, type Plane, plane, rowsOf } from "../core/plane.js";
import { refusal } from "../core/refusals/refusals.js";
import { namedMethods } from "./catalogue.js";
import type { HalftoneMethod, HalftoneSettings } from "./method.js";
import { patchHalftone } from "./patch-halftone.js";

/** The method with that name. Throws `OPTION_METHOD_UNKNOWN`. */
export function findHalftoneMethod(id: string): HalftoneMethod {
  const method = namedMethods.find((candidate) => candidate.id === id);
  if (method) return method;
  const known = ["auto", ...namedMethods.map((candidate) => candidate.id)];
  throw refusal("method-unknown", { method: id, known }, { received: id, allowed: known.join(", ") });
}

/** Burn fractions of a picture as integer codes: see `core/burn-fraction.ts`. */
export interface FractionCodes {
  /** [rows × columns] 0..FRACTION_ONE, or `STAYS_BARE`. */
  readonly codes: Int16Array;
  readonly columns: number;
  readonly rows: number;
}

/**
 * Halftone a plane of burn fractions. Throws `OPTION_METHOD_LEVELS` if the method does not support the power levels of the
 * settings, and `OPTION_INVALID` if it needs `settings.surface` and there is none.
 *
 * @param fractions [rows, columns] 0..1, the share of full power; not modified
 * @returns [rows, columns] power levels 0..levels − 1, of the same pitch
 */
export function halftone(
  method: HalftoneMethod,
  fractions: Plane<"burn-fraction">,
  settings: HalftoneSettings,
): Bitmap {
  const rows = rowsOf(fractions);
  const columns = columnsOf(fractions);
  const codes = Int16Array.from(denseData(fractions), fractionCode);
  const bits = unpackBitmap(halftoneCodes(method, { codes, columns, rows }, settings));
  return plane("bitmap", bits, rows, columns, fractions.pitch);
}

/** The same from integer codes to packed bits. */
export function halftoneCodes(
  method: HalftoneMethod,
  { codes, columns, rows }: FractionCodes,
  settings: HalftoneSettings,
  memory: KernelMemory = createKernelMemory(),
): PackedBitmap {
  const release = memory.mark();
  const bitmap = patchHalftone(method, settings, memory)(codes, columns, rows);
  release();
  return bitmap;
}
