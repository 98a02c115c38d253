import type { KernelMemory } from "../core/kernel-memory.js";
import { modulo } from "../core/modulo.js";
import { bytesPerRow } from "../core/packed-bits.js";
import { type SplitLine, splitBits, splitLevels } from "./burst-pixels.js";
import { addScaledRow } from "./exposure-kernels.js";
import type { CreateExposer, ExposeLine, LineShape } from "./line-exposure.js";
import type { BurstChange, SampleTaps } from "./sample-taps.js";

/**
 * Exposes the lines of a source that starts later or earlier than it stops. A line becomes two: the pixels that burn as a whole,
 * and those that burn in part. Each has its taps, and their doses add up.
 *
 * @param create exposes lines without such a change
 */
export function createBurstExposer(
  memory: KernelMemory,
  line: SampleTaps,
  bursts: BurstChange,
  shape: LineShape,
  create: CreateExposer,
): ExposeLine {
  const { columns, levels, samples, stride, closed } = shape;
  // Bursts are right from `wholePx` + 1 pixels inside the margin on, and the taps reach no further.
  const marginPx = 8 * Math.ceil((Math.max(line.before, line.after) + bursts.wholePx + 1) / 8);
  const bytes = bytesPerRow(columns, levels);
  const marginBytes = bytesPerRow(marginPx, levels);
  const asked = new Uint8Array(bytes + 2 * marginBytes);
  const split: SplitLine = { whole: new Uint8Array(asked.length), part: new Uint8Array(asked.length) };
  const splitLine = levels === 2 ? splitBits : splitLevels;
  const exposeWhole = create(memory, line, { ...shape, marginPx });
  const exposePart = create(memory, bursts.part, { ...shape, marginPx });
  const partial = memory.float32(samples * stride);

  return (packed, out) => {
    asked.set(packed.length === bytes ? packed : packed.subarray(0, bytes), marginBytes);
    if (closed) {
      for (let i = 1; i <= marginBytes; i++) asked[marginBytes - i] = packed[modulo(-i, bytes)];
      for (let i = 0; i < marginBytes; i++) asked[marginBytes + bytes + i] = packed[i % bytes];
    }
    splitLine(asked, bursts, split);
    exposeWhole(split.whole, out);
    exposePart(split.part, partial);
    addScaledRow(memory, partial, 1, out, 0);
  };
}
