import type { KernelMemory } from "../core/kernel-memory.js";
import { modulo } from "../core/modulo.js";
import { levelPowers } from "../core/power-levels.js";
import { type AlongSum, sumAlong } from "../core/rows-kernels.js";
import { createTailExposer, type ExposeLine, type LineShape } from "./line-exposure.js";
import type { SampleTaps } from "./sample-taps.js";

/**
 * `createLineExposer` for lines with more than two power levels, one byte per pixel: each tap is multiplied by the power of its
 * pixel.
 */
export function createLevelLineExposer(memory: KernelMemory, line: SampleTaps, shape: LineShape): ExposeLine {
  const { columns, marginPx, samples, stride, closed } = shape;
  const { before, after, width } = line;
  const powers = levelPowers(shape.levels);
  /** Power of each pixel, with margins where nothing burns. */
  const padded = memory.float32(width + stride);
  const taps = memory.float32(samples * width);
  taps.set(line.taps);
  const sums = Array.from({ length: samples }, (_, s): AlongSum => {
    const weights = taps.subarray(s * width, (s + 1) * width);
    return { simd: memory.simd, weights, step: 1, values: stride };
  });
  const addTail = line.tail && createTailExposer(memory, line.tail, shape, (pixels, x) => powers[pixels[x]]);

  return (pixels, out) => {
    const first = Math.max(-before, -marginPx);
    const end = Math.min(stride + after, columns + marginPx);
    for (let x = first; x < end; x++) padded[before + x] = powers[pixels[marginPx + x]];
    if (closed && marginPx === 0) {
      for (let x = 1; x <= before; x++) padded[before - x] = powers[pixels[modulo(-x, columns)]];
      for (let x = 0; x < after; x++) padded[before + columns + x] = powers[pixels[x % columns]];
    }
    for (let s = 0; s < samples; s++) sumAlong(sums[s], padded, out, s * stride);
    addTail?.(pixels, out);
  };
}
