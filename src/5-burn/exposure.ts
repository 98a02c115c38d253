import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import type { Response } from "../core/material/response.js";
import type { BitmapRows } from "../core/packed-bits.js";
import type { RowRange } from "../core/plane-rows.js";
import { createBurstExposer } from "./burst-exposure.js";
import { MAX_SUMS, type RowWeights, type WeighedRows, weighRows } from "./exposure-kernels.js";
import type { ExposurePlan } from "./exposure-plan.js";
import { createLevelLineExposer } from "./level-line-exposure.js";
import { createLineExposer, type ExposeLine, type LineShape } from "./line-exposure.js";
import { createRaiseRow } from "./raise-rows.js";
import type { SampleTaps } from "./sample-taps.js";

/** How a bitmap is burned into a surface. */
export interface Exposure {
  readonly plan: ExposurePlan;
  readonly response: Response;
  /** Default: a new memory. */
  readonly memory?: KernelMemory;
}

/**
 * Receives one row of finely sampled dose, valid until the next: sample s of pixel x lies at s · doseStride(columns) + x.
 */
export type DoseRowSink = (dose: Float32Array, y: number, sampleAcross: number) => void;

/** Floats from the dose of one sample along to the next: whole vectors. */
export const doseStride = (columns: number): number => Math.ceil(columns / 8) * 8;

/**
 * Dose field of some rows of a bitmap, one finely sampled row at a time, top to bottom: 1 is the mean dose of a solid fill at
 * full power. Memory holds only the rows that the spot reaches. Nothing burns outside the bitmap.
 *
 * @param bitmap of the plan's power levels
 */
export function exposeRows(
  { plan, memory = createKernelMemory() }: Pick<Exposure, "plan" | "memory">,
  bitmap: BitmapRows,
  { firstRow, endRow }: RowRange,
  sink: DoseRowSink,
): void {
  const release = memory.mark();
  const { columns, rows, closed = false } = bitmap;
  const { samplesAlong, evenLines, oddLines, across, lineExponent } = plan;
  const raise = lineExponent === 1 ? undefined : createRaiseRow(lineExponent);
  const lower = raise && createRaiseRow(1 / lineExponent);
  const stride = doseStride(columns);
  const shape = { columns, marginPx: 0, samples: samplesAlong, stride, levels: plan.levels, closed };
  const exposeEven = lineExposer(memory, evenLines, shape);
  const exposeOdd = oddLines === evenLines ? exposeEven : lineExposer(memory, oddLines, shape);
  const groups = sampleGroups(memory, plan);
  const { lines, weighed } = lineRing(memory, across.width, samplesAlong * stride);
  const doseRows = Array.from({ length: MAX_SUMS }, (_, t) =>
    weighed.out.subarray(t * weighed.length, (t + 1) * weighed.length),
  );

  let nextLine = Math.max(0, firstRow - across.before);
  for (let y = firstRow; y < endRow; y++) {
    for (; nextLine <= Math.min(rows - 1, y + across.after); nextLine++) {
      const expose = nextLine % 2 === 0 ? exposeEven : exposeOdd;
      const line = lines[nextLine % across.width];
      expose(bitmap.row(nextLine), line);
      raise?.(line);
    }
    const from = Math.max(-across.before, -y);
    const to = Math.min(across.after, rows - 1 - y);
    const first = (y + from) % across.width;
    for (const group of groups) {
      weighRows(weighed, group, first, to - from + 1, from + across.before);
      for (let t = 0; t < group.sums; t++) {
        lower?.(doseRows[t]);
        sink(doseRows[t], y, group.sample + t);
      }
    }
  }
  release();
}

function lineExposer(memory: KernelMemory, line: SampleTaps, shape: LineShape): ExposeLine {
  const create = shape.levels === 2 ? createLineExposer : createLevelLineExposer;
  return line.bursts
    ? createBurstExposer(memory, line, line.bursts, shape, create)
    : create(memory, line, shape);
}

/** Buffer of the lines that the spot reaches. `weighed` lists them twice, so they are always in sequence there. */
function lineRing(memory: KernelMemory, count: number, length: number) {
  const out = memory.float32(MAX_SUMS * length);
  const lines = Array.from({ length: count }, () => memory.float32(length));
  const rows = [...lines, ...lines];
  const addresses = memory.int32(rows.length);
  addresses.set(rows.map(({ byteOffset }) => byteOffset));
  const weighed: WeighedRows = { simd: memory.simd, rows, addresses, length, out };
  return { lines, weighed };
}

/** Samples across that are weighed at once. */
interface SampleGroup extends RowWeights {
  /** First of them. */
  readonly sample: number;
}

function sampleGroups(
  memory: KernelMemory,
  { across: { width, taps }, samplesAcross: samples, lineExponent }: ExposurePlan,
): SampleGroup[] {
  const groups: SampleGroup[] = [];
  for (let sample = 0; sample < samples; sample += MAX_SUMS) {
    const sums = Math.min(MAX_SUMS, samples - sample);
    const weights = memory.float32(width * sums);
    for (let k = 0; k < width; k++) {
      for (let t = 0; t < sums; t++) weights[k * sums + t] = taps[(sample + t) * width + k] ** lineExponent;
    }
    groups.push({ sample, sums, weights });
  }
  return groups;
}
