import type { KernelMemory } from "../core/kernel-memory.js";
import { levelPowers } from "../core/power-levels.js";
import { type BurnLine, createTailBurner } from "./burn-line.js";
import type { SampleTaps } from "./exposure-plan.js";

/**
 * `createLineBurner` for lines of more than two power levels, one byte a pixel: every tap is weighed by the power of its
 * pixel.
 *
 * @param stride floats from one sample's row to the next; a multiple of 8 and at least `columns`
 * @param closed whether the line's last pixel and its first are neighbours; `columns` is then a multiple of 8
 */
export function createLevelBurner(
  memory: KernelMemory,
  line: SampleTaps,
  samples: number,
  columns: number,
  stride: number,
  levels: number,
  closed = false,
): BurnLine {
  const { before, after, width } = line;
  const powers = levelPowers(levels);
  /** Power of each pixel, with what lies beside the line, where nothing burns. */
  const padded = memory.float32(width + stride);
  const weights = memory.float32(samples * width);
  weights.set(line.taps);
  const addTail =
    line.tail &&
    createTailBurner(memory, line.tail, columns, stride, closed, (pixels, x) => powers[pixels[x]]);

  return (pixels, out) => {
    for (let x = 0; x < columns; x++) padded[before + x] = powers[pixels[x]];
    if (closed) {
      for (let x = 1; x <= before; x++) padded[before - x] = powers[pixels[modulo(-x, columns)]];
      for (let x = 0; x < after; x++) padded[before + columns + x] = powers[pixels[x % columns]];
    }
    for (let s = 0; s < samples; s++)
      weighNeighbours(memory, padded, weights, s, width, out, s * stride, stride);
    addTail?.(pixels, out);
  };
}

/** out[to + x] = Σ_k weights[s · width + k] · row[x + k], k rising, in single precision. */
function weighNeighbours(
  { simd }: KernelMemory,
  row: Float32Array,
  weights: Float32Array,
  s: number,
  width: number,
  out: Float32Array,
  to: number,
  count: number,
): void {
  const first = s * width;
  if (simd) {
    const from = weights.byteOffset + 4 * first;
    simd.sumAlong(row.byteOffset, from, width, 1, count, out.byteOffset + 4 * to);
    return;
  }
  for (let x = 0; x < count; x++) {
    let sum = 0;
    for (let k = 0; k < width; k++) sum = Math.fround(sum + Math.fround(weights[first + k] * row[x + k]));
    out[to + x] = sum;
  }
}

const modulo = (value: number, period: number): number => ((value % period) + period) % period;
