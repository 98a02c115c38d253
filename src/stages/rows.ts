import type { KernelMemory } from "../core/kernel-memory.js";
import { codesFromLuminance } from "../core/luminance-kernels.js";
import type { CodeRows, PlaneRows } from "../core/plane-rows.js";
import type { ReadPicture } from "./picture.js";

/** Rows of a picture. A call copies one row to the kernels' memory. */
export function inMemory(memory: KernelMemory, { data, columns }: ReadPicture<Float32Array>): PlaneRows {
  const row = memory.float32(columns);
  return (y) => {
    row.set(data.subarray(y * columns, (y + 1) * columns));
    return row;
  };
}

/** Rows of linear luminance as 16-bit codes. */
export function codeRows(memory: KernelMemory, luminance: ReadPicture<Float32Array>): CodeRows {
  const rows = inMemory(memory, luminance);
  const codes = memory.uint16(luminance.columns);
  return (y) => {
    codesFromLuminance(memory, rows(y), luminance.columns, codes);
    return codes;
  };
}

/** Writes all rows, in rising order, to one array. */
export function writeRows(from: PlaneRows, out: Float32Array, columns: number, rows: number): void {
  for (let y = 0; y < rows; y++) out.set(from(y).subarray(0, columns), y * columns);
}
