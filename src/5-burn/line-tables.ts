import type { KernelMemory } from "../core/kernel-memory.js";
import { GROUP_PX } from "./exposure-kernels.js";
import type { SampleTaps } from "./sample-taps.js";

/** Tables of whole bytes are faster while they fit into the cache. Above this size, tables of half bytes are used. */
const MAX_TABLE_BYTES = 256 * 1024;

/**
 * Taps as tables: the dose of four neighbouring pixels depends on a window of 4 + before + after bits. It is the sum of one entry
 * for each eight (or four) bits of the window.
 */
export interface LineTables {
  /** Bits per table, 8 or 4. */
  readonly bits: 4 | 8;
  /** Tables per window. */
  readonly parts: number;
  /** [samples × parts × 2^bits × 4 pixels]; the leftmost bit of a part is the highest. */
  readonly tables: Float32Array;
}

/** @param samples per pixel along the line */
export function lineTables(memory: KernelMemory, line: SampleTaps, samples: number): LineTables {
  const windowBits = GROUP_PX + line.before + line.after;
  const bits = samples * Math.ceil(windowBits / 8) * 256 * 16 <= MAX_TABLE_BYTES ? 8 : 4;
  const parts = Math.ceil(windowBits / bits);
  const tables = memory.float32(samples * parts * GROUP_PX * 2 ** bits);
  let at = 0;
  for (let s = 0; s < samples; s++) {
    for (let part = 0; part < parts; part++) {
      for (let code = 0; code < 2 ** bits; code++) {
        for (let x = 0; x < GROUP_PX; x++) tables[at++] = doseOf(line, s, code, bits, part * bits - x);
      }
    }
  }
  return { bits, parts, tables };
}

/** Dose at sample s from the bits of `code`. The leftmost bit is `first` taps from the first tap. */
function doseOf({ taps, width }: SampleTaps, s: number, code: number, bits: number, first: number): number {
  let dose = 0;
  for (let b = 0; b < bits; b++) {
    const tap = first + b;
    if ((code >> (bits - 1 - b)) & 1 && tap >= 0 && tap < width) dose += taps[s * width + tap];
  }
  return dose;
}
