import { erfc } from "../core/physics/erf.js";

/** Below this coverage, and above 1 minus it, no edge is near: it is more than 3.1 standard deviations away. */
export const MIN_COVERAGE = 0.001;

const STEPS = 8192;

/**
 * Distance from a straight edge, in standard deviations of the blur, by blurred coverage 0..1 in equal steps: the inverse of the
 * normal distribution function Φ(z), by Newton's method. 0.5 is on the edge; larger values are inside.
 */
export function probitTable(): Float32Array {
  const table = new Float32Array(STEPS + 2);
  const middle = STEPS / 2;
  for (let i = middle + 1, z = 0; i <= STEPS; i++) {
    const coverage = Math.min(i / STEPS, 1 - MIN_COVERAGE / 10);
    for (let k = 0; k < 4; k++) {
      const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
      z += (coverage - 0.5 * erfc(-z * Math.SQRT1_2)) / density;
    }
    table[i] = z;
    table[STEPS - i] = -z;
  }
  table[STEPS + 1] = table[STEPS];
  return table;
}

/** @param coverage 0..1 */
export function lookUpProbit(table: Float32Array, coverage: number): number {
  const at = coverage * STEPS;
  const step = at | 0;
  return table[step] + (table[step + 1] - table[step]) * (at - step);
}
