import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerRow, type PackedBitmap } from "../core/packed-bits.js";
import { HalftoneStream } from "./halftone-stream.js";
import type { HalftoneMethod, HalftoneSettings } from "./method.js";

/**
 * Halftones many patches of the same size one after the other, each independently. A method sets up its tables for a size only
 * once.
 *
 * @param memory in use until the caller releases it
 */
export function patchHalftone(
  method: HalftoneMethod,
  settings: HalftoneSettings,
  memory: KernelMemory,
): (fractions: Int16Array, columns: number, rows: number) => PackedBitmap {
  let stream: HalftoneStream | undefined;
  let size = { columns: 0, rows: 0 };
  let bytes = new Uint8Array(0);

  return (fractions, columns, rows) => {
    const stride = bytesPerRow(columns, settings.levels);
    bytes = new Uint8Array(rows * stride);
    if (stream && size.columns === columns && size.rows === rows) stream.restart();
    else {
      size = { columns, rows };
      stream = new HalftoneStream(
        method,
        { columns, rows },
        settings,
        (packed, y, count) => bytes.set(packed.subarray(0, count * stride), y * stride),
        memory,
      );
    }
    for (let y = 0; y < rows; y += stream.bandRows) {
      const count = Math.min(stream.bandRows, rows - y);
      stream.fractions.set(fractions.subarray(y * columns, (y + count) * columns));
      stream.push(count);
    }
    return { columns, rows, levels: settings.levels, stride, bytes };
  };
}
