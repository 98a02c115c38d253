import { halftoneCodes } from "../../src/4-halftone/halftone.js";
import type { HalftoneMethod, HalftoneSettings } from "../../src/4-halftone/method.js";
import { fractionCode } from "../../src/core/burn-fraction.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";

/** One of each form for a whole test file. */
export const simdMemory = createKernelMemory("simd");
export const plainMemory = createKernelMemory("plain");

/** Row-major fractions 0..1 to row-major bits, one byte a pixel. */
export function halftoneBits(
  method: HalftoneMethod,
  fractions: Float32Array,
  columns: number,
  rows: number,
  settings: HalftoneSettings,
  memory = simdMemory,
): Uint8Array {
  const codes = Int16Array.from(fractions, fractionCode);
  return unpackBitmap(halftoneCodes(method, { codes, columns, rows }, settings, memory));
}
