import type { KernelMemory } from "./kernel-memory.js";
import { BRIGHTEST_CODE } from "./luminance-codes.js";

/** A table by 16-bit code, and the number of codes in a row. */
export interface CodeTable {
  readonly memory: KernelMemory;
  /** [65536] */
  readonly table: Float32Array;
  readonly columns: number;
}

/**
 * Look codes up in a table and write one value every `step` to `out`.
 *
 * @param codes [columns]
 * @param at index of the first value; a negative step writes the row backwards from there
 */
export function luminanceFromCodes(
  { memory, table, columns }: CodeTable,
  codes: Uint16Array,
  out: Float32Array,
  at: number,
  step: number,
): void {
  const { simd } = memory;
  if (simd) {
    const to = out.byteOffset + 4 * at;
    simd.luminanceFromCodes(codes.byteOffset, table.byteOffset, columns, to, 4 * step);
    return;
  }
  for (let x = 0; x < columns; x++, at += step) out[at] = table[codes[x]];
}

/** Linear luminance 0..1 [columns] to the nearest 16-bit codes, which are fine enough for shadows and index tables. */
export function codesFromLuminance(
  { simd }: KernelMemory,
  luminance: Float32Array,
  columns: number,
  out: Uint16Array,
): void {
  if (simd) {
    simd.codesFromLuminance(luminance.byteOffset, columns, out.byteOffset);
    return;
  }
  const { fround } = Math;
  for (let x = 0; x < columns; x++) out[x] = fround(fround(luminance[x] * BRIGHTEST_CODE) + 0.5);
}
