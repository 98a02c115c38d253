import { fractionCode } from "../core/burn-fraction.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import { type PackedBitmap, unpackBitmap } from "../core/packed-bits.js";
import { type Bitmap, columnsOf, denseData, type Plane, plane, rowsOf } from "../core/plane.js";
import { refusal } from "../core/refusals/refusals.js";
import { halftoneMethods } from "./catalogue.js";
import type { HalftoneMethod, HalftoneSettings } from "./method.js";
import { patchHalftone } from "./patch-halftone.js";

/** The method of that name. Throws `OPTION_METHOD_UNKNOWN`. */
export function findHalftoneMethod(id: string): HalftoneMethod {
  const method = halftoneMethods.find((candidate) => candidate.id === id);
  if (method) return method;
  const known = ["auto", ...halftoneMethods.map((candidate) => candidate.id)];
  throw refusal("method-unknown", { method: id, known }, { received: id, allowed: known.join(", ") });
}

/**
 * Halftone a plane of burn fractions (0..1) to a bitmap of the same shape and pitch, its pixels 0..levels − 1. The input is
 * not modified. Throws `OPTION_METHOD_LEVELS`.
 */
export function halftone(
  method: HalftoneMethod,
  fractions: Plane<"burn-fraction">,
  settings: HalftoneSettings,
): Bitmap {
  const rows = rowsOf(fractions);
  const columns = columnsOf(fractions);
  const codes = Int16Array.from(denseData(fractions), fractionCode);
  const bits = unpackBitmap(halftoneCodes(method, codes, columns, rows, settings));
  return plane("bitmap", bits, rows, columns, fractions.pitch);
}

/** The same on bare arrays: [rows × columns] burn fractions as in `core/burn-fraction.ts` in, packed bits out. */
export function halftoneCodes(
  method: HalftoneMethod,
  fractions: Int16Array,
  columns: number,
  rows: number,
  settings: HalftoneSettings,
  memory: KernelMemory = createKernelMemory(),
): PackedBitmap {
  const handBack = memory.mark();
  const bitmap = patchHalftone(method, settings, memory)(fractions, columns, rows);
  handBack();
  return bitmap;
}
