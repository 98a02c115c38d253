import type { KernelMemory } from "./kernel-memory.js";
import { BRIGHTEST_CODE } from "./luminance-codes.js";

/** A table by 16-bit code, and how many codes of a row are looked up. */
export interface CodeTable {
  readonly memory: KernelMemory;
  /** [65536] */
  readonly table: Float32Array;
  readonly columns: number;
}

/**
 * Look codes up in a table, each to its place in `out`: one value every `step`.
 *
 * @param codes [columns]
 * @param at where the first value goes; with a negative step the row is written backwards from there
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

/** Linear luminance 0..1 [columns] as the nearest 16-bit codes: fine enough for the shadows, and a key to tables. */
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
