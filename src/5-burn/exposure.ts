import type { KernelMemory } from "../core/kernel-memory.js";
import { createLevelBurner } from "./burn-level-line.js";
import { createLineBurner } from "./burn-line.js";
import type { ExposurePlan, SampleTaps } from "./exposure-plan.js";
import { MOST_ROWS_AT_ONCE, weighRows } from "./weigh-rows.js";

/** Hands out row y of a bitmap, as in `core/packed-bits.ts`. */
export type PackedRows = (y: number) => Uint8Array;

/**
 * Receives one row of finely sampled dose, valid until the next: sample s of pixel x lies at s · doseStride(columns) + x.
 */
export type DoseRowSink = (dose: Float32Array, y: number, sampleAcross: number) => void;

/** Floats from the dose of one sample along to the next: whole vectors. */
export const doseStride = (columns: number): number => Math.ceil(columns / 8) * 8;

/**
 * Dose field of rows `firstRow`..`endRow` (exclusive) of a bitmap, one finely sampled row at a time, top to bottom. Only
 * the rows that the spot reaches are held. Outside the bitmap nothing burns.
 *
 * @param packedRow row y is asked for once, in rising order
 * @param rows height of the bitmap
 * @param closed whether a row's last pixel and its first are neighbours; `columns` is then a multiple of 8
 */
export function exposeRows(
  memory: KernelMemory,
  plan: ExposurePlan,
  packedRow: PackedRows,
  columns: number,
  rows: number,
  firstRow: number,
  endRow: number,
  sink: DoseRowSink,
  closed = false,
): void {
  const release = memory.mark();
  const { samplesAlong, samplesAcross, evenLines, oddLines, across } = plan;
  const stride = doseStride(columns);
  const length = samplesAlong * stride;
  const burner = (line: SampleTaps) =>
    plan.levels === 2
      ? createLineBurner(memory, line, samplesAlong, columns, stride, closed)
      : createLevelBurner(memory, line, samplesAlong, columns, stride, plan.levels, closed);
  const burnEven = burner(evenLines);
  const burnOdd = oddLines === evenLines ? burnEven : burner(oddLines);
  const groups = sampleGroups(memory, across, samplesAcross);
  const dose = memory.float32(MOST_ROWS_AT_ONCE * length);
  const doseRows = Array.from({ length: MOST_ROWS_AT_ONCE }, (_, t) =>
    dose.subarray(t * length, (t + 1) * length),
  );
  // Rings twice round, so that the rows which the spot reaches always stand one after another.
  const held = Array.from({ length: across.width }, () => memory.float32(length));
  const ring = [...held, ...held];
  const addresses = memory.int32(ring.length);
  addresses.set(ring.map(({ byteOffset }) => byteOffset));

  let nextLine = Math.max(0, firstRow - across.before);
  for (let y = firstRow; y < endRow; y++) {
    for (; nextLine <= Math.min(rows - 1, y + across.after); nextLine++) {
      const burn = nextLine % 2 === 0 ? burnEven : burnOdd;
      burn(packedRow(nextLine), held[nextLine % across.width]);
    }
    const from = Math.max(-across.before, -y);
    const to = Math.min(across.after, rows - 1 - y);
    const first = (y + from) % across.width;
    const count = to - from + 1;
    for (const { sample, sums, weights } of groups) {
      const firstWeight = (from + across.before) * sums;
      weighRows(memory, ring, addresses, first, count, weights, firstWeight, sums, dose, length, length);
      for (let t = 0; t < sums; t++) sink(doseRows[t], y, sample + t);
    }
  }
  release();
}

/** Samples across that are weighed at once. */
interface SampleGroup {
  /** First of them. */
  readonly sample: number;
  readonly sums: number;
  /** [width × sums] */
  readonly weights: Float32Array;
}

function sampleGroups(memory: KernelMemory, { width, taps }: SampleTaps, samples: number): SampleGroup[] {
  const groups: SampleGroup[] = [];
  for (let sample = 0; sample < samples; sample += MOST_ROWS_AT_ONCE) {
    const sums = Math.min(MOST_ROWS_AT_ONCE, samples - sample);
    const weights = memory.float32(width * sums);
    for (let k = 0; k < width; k++) {
      for (let t = 0; t < sums; t++) weights[k * sums + t] = taps[(sample + t) * width + k];
    }
    groups.push({ sample, sums, weights });
  }
  return groups;
}
