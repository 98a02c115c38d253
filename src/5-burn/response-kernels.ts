import type { KernelMemory } from "../core/kernel-memory.js";
import type { Response } from "../core/material/response.js";

/** A response laid out for rows of doses: for each step of its table the value where it starts and the rise to its end. */
export interface ResponseSteps {
  /** [steps × 2] */
  readonly table: Float32Array;
  /** Steps per unit of dose, and the last of them, which stays level. */
  readonly stepsPerDose: number;
  readonly last: number;
}

export function responseSteps(memory: KernelMemory, { table, stepsPerDose, steps }: Response): ResponseSteps {
  const pairs = memory.float32(2 * (steps + 1));
  for (let i = 0; i <= steps; i++) {
    pairs[2 * i] = table[i];
    pairs[2 * i + 1] = i < steps ? table[i + 1] - table[i] : 0;
  }
  return { table: pairs, stepsPerDose, last: steps };
}

/** Adding this rounds a number under 2²² to a whole one in single precision. */
const ROUNDER = 12582912;

/**
 * Adds the response to each of a pixel's samples: out[x] += Σ_s R(dose[s · stride + x] · doseFactor), in single precision, the sum
 * over s, rising, first; linear within a step.
 *
 * @param samples per pixel in this row
 * @param out the vector form writes up to a whole multiple of 4
 */
export function addResponse(
  { simd }: KernelMemory,
  { table, stepsPerDose, last }: ResponseSteps,
  doseFactor: number,
  dose: Float32Array,
  samples: number,
  stride: number,
  out: Float32Array,
  columns: number,
): void {
  const scale = Math.fround(doseFactor * stepsPerDose);
  if (simd) {
    simd.addResponse(
      dose.byteOffset,
      samples,
      stride,
      table.byteOffset,
      scale,
      last,
      out.byteOffset,
      columns,
    );
    return;
  }
  for (let x = 0; x < columns; x++) {
    let sum = 0;
    for (let s = 0, i = x; s < samples; s++, i += stride) {
      const scaled = Math.fround(dose[i] * scale);
      const at = scaled < last ? scaled : last;
      const step = Math.fround(Math.fround(at - 0.5) + ROUNDER) - ROUNDER;
      const rise = Math.fround(table[2 * step + 1] * Math.fround(at - step));
      sum = Math.fround(sum + Math.fround(table[2 * step] + rise));
    }
    out[x] += sum;
  }
}

/** row[i] *= factor, i < count. */
export function scaleRow({ simd }: KernelMemory, row: Float32Array, factor: number, count: number): void {
  if (simd) {
    simd.scaleRow(row.byteOffset, factor, count);
    return;
  }
  const f = Math.fround(factor);
  for (let i = 0; i < count; i++) row[i] *= f;
}
