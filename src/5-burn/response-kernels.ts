import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";
import type { Response } from "../core/material/response.js";

/** A response in the layout of the loops. */
export interface ResponseSteps {
  readonly simd: SimdKernels | undefined;
  /** [steps × 2] For each step of the response: the value at its start and the rise to its end. */
  readonly table: Float32Array;
  /** Steps per unit of dose, and the last step, which is level. */
  readonly stepsPerDose: number;
  readonly last: number;
  readonly rows: DoseRowShape;
}

export interface DoseRowShape {
  readonly columns: number;
  /** Samples of a pixel along the row. */
  readonly samples: number;
  /** Floats from the doses of one sample to those of the next. */
  readonly stride: number;
}

export function responseSteps(
  memory: KernelMemory,
  { table, stepsPerDose, steps }: Response,
  rows: DoseRowShape,
): ResponseSteps {
  const pairs = memory.float32(2 * (steps + 1));
  for (let i = 0; i <= steps; i++) {
    pairs[2 * i] = table[i];
    pairs[2 * i + 1] = i < steps ? table[i + 1] - table[i] : 0;
  }
  return { simd: memory.simd, table: pairs, stepsPerDose, last: steps, rows };
}

/** Adding this rounds a number under 2²² to a whole number in single precision. */
const ROUNDER = 12582912;

/**
 * Adds the response to each of a pixel's samples: out[x] += Σ_s R(dose[s · stride + x] · doseFactor), in single precision. The
 * sum over s comes first, in rising order. R is linear within a step.
 *
 * @param out the vector form writes up to a whole multiple of 4
 */
export function addResponse(
  { simd, table, stepsPerDose, last, rows }: ResponseSteps,
  doseFactor: number,
  dose: Float32Array,
  out: Float32Array,
): void {
  const { columns, samples, stride } = rows;
  const scale = Math.fround(doseFactor * stepsPerDose);
  if (simd) {
    const [from, steps, to] = [dose.byteOffset, table.byteOffset, out.byteOffset];
    simd.addResponse(from, samples, stride, steps, scale, last, to, columns);
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

/** row[i] *= factor */
export function scaleRow({ simd }: KernelMemory, row: Float32Array, factor: number): void {
  if (simd) {
    simd.scaleRow(row.byteOffset, factor, row.length);
    return;
  }
  const f = Math.fround(factor);
  for (let i = 0; i < row.length; i++) row[i] *= f;
}
