import { SpotpitchError } from "../core/errors.js";
import { packBitmap } from "../core/packed-bits.js";
import { type Bitmap, columnsOf, denseData, type Plane, plane, rowsOf } from "../core/plane.js";
import { halftoneMethods } from "./catalogue.js";
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
  const bits = halftoneData(method, denseData(fractions), columns, rows, settings);
  return plane("bitmap", bits, rows, columns, fractions.pitch);
}

/** The same on bare arrays: row-major fractions in, row-major bits out. */
export function halftoneData(
  method: HalftoneMethod,
  fractions: Float32Array,
  columns: number,
  rows: number,
  settings: HalftoneSettings,
): Uint8Array {
  const bits = new Uint8Array(columns * rows);
  if (method.kind === "plane") {
    method.start(settings)(fractions, columns, rows, bits);
    return bits;
  }
  const nextRow = method.start(columns, settings);
  const { leadInRows } = method;
  for (let y = -leadInRows; y < rows; y++) {
    const from = Math.min(rows - 1, y < 0 ? -1 - y : y) * columns;
    // Bits of the lead-in are written over when their row comes round.
    nextRow(fractions.subarray(from, from + columns), y + leadInRows, bits.subarray(from, from + columns));
  }
  return bits;
}

export function halftoneMaker(method: HalftoneMethod, settings: HalftoneSettings, _memory: unknown) {
  return (fractions: Int16Array, columns: number, rows: number) => {
    const bits = halftoneData(
      method,
      Float32Array.from(fractions, (f) => Math.max(0, f) / 16384),
      columns,
      rows,
      settings,
    );
    for (let i = 0; i < bits.length; i++) if (fractions[i] < 0) bits[i] = 0;
    return packBitmap(bits, columns, rows);
  };
}
