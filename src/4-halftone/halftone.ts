import { fractionCode } from "../core/burn-fraction.js";
import { SpotpitchError } from "../core/errors.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow, type PackedBitmap, unpackBitmap } from "../core/packed-bits.js";
import { type Bitmap, columnsOf, denseData, type Plane, plane, rowsOf } from "../core/plane.js";
import { halftoneMethods } from "./catalogue.js";
import { createHalftoneStream } from "./halftone-stream.js";
import type { HalftoneMethod, HalftoneSettings } from "./method.js";

/** The method of that name. Throws `OPTION_METHOD_UNKNOWN`. */
export function findHalftoneMethod(id: string): HalftoneMethod {
  const method = halftoneMethods.find((candidate) => candidate.id === id);
  if (method) return method;
  const allowed = `auto, ${halftoneMethods.map((candidate) => candidate.id).join(", ")}`;
  throw new SpotpitchError("OPTION_METHOD_UNKNOWN", `method "${id}" is none of ${allowed}.`, {
    option: "method",
    received: id,
    allowed,
  });
}

/**
 * Halftone a plane of burn fractions (0..1) to a bitmap of the same shape and pitch. The input is not modified.
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
  const stride = bytesPerPackedRow(columns);
  const bytes = new Uint8Array(rows * stride);
  const handBack = memory.mark();
  const stream = createHalftoneStream(method, columns, rows, settings, memory, (packed, y, count) => {
    bytes.set(packed.subarray(0, count * stride), y * stride);
  });
  for (let y = 0; y < rows; y += stream.bandRows) {
    const count = Math.min(stream.bandRows, rows - y);
    stream.fractions.set(fractions.subarray(y * columns, (y + count) * columns));
    stream.push(count);
  }
  handBack();
  return { columns, rows, stride, bytes };
}
