import type { KernelMemory } from "../core/kernel-memory.js";
import { modulo } from "../core/modulo.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import { addScaledRow, GROUP_PX, type LineWindows, sumTables, windowOffsets } from "./exposure-kernels.js";
import { lineTables } from "./line-tables.js";
import type { LagTail, SampleTaps } from "./sample-taps.js";

/** Bytes read past the end of a window's first byte. */
const READ_AHEAD_BYTES = 3;

/**
 * Exposes one line alone: the dose along the line, before the blur across.
 *
 * @param packed the line with its margins, as a row of a bitmap
 * @param out [samples × stride] one row for each sample of a pixel
 */
export type ExposeLine = (packed: Uint8Array, out: Float32Array) => void;

/** The lines of a bitmap, and how finely they are sampled. */
export interface LineShape {
  readonly columns: number;
  /** Pixels given with each line beyond both ends, which burn too: a multiple of 8; 0 for rows of a bitmap. */
  readonly marginPx: number;
  /** Samples of a pixel along the line. */
  readonly samples: number;
  /** Floats from one sample's row to the next: a multiple of 8, and at least `columns`. */
  readonly stride: number;
  readonly levels: number;
  /** Whether the last pixel of a line is a neighbour of the first. `columns` is then a multiple of 8. */
  readonly closed: boolean;
}

/** Makes what exposes lines of one kind. */
export type CreateExposer = (memory: KernelMemory, line: SampleTaps, shape: LineShape) => ExposeLine;

/** @param line taps of this kind of line */
export function createLineExposer(memory: KernelMemory, line: SampleTaps, shape: LineShape): ExposeLine {
  const { columns, marginPx, samples, stride, closed } = shape;
  const { bits, parts, tables } = lineTables(memory, line, samples);
  const pairs = Math.ceil((stride / GROUP_PX + (parts - 1) * (bits / GROUP_PX)) / 2);
  const bytes = bytesPerPackedRow(columns + 2 * marginPx);
  const clearBefore = Math.ceil(line.before / 8);
  const firstBit = 8 * clearBefore + marginPx - line.before;
  const padded = memory.uint8(Math.max(clearBefore + bytes, (firstBit >> 3) + pairs) + READ_AHEAD_BYTES);
  const offsets = memory.int32(2 * pairs);
  const windows: LineWindows = {
    ...{ simd: memory.simd, padded, firstBit, offsets },
    ...{ tables, bits, parts, samples, stride },
  };
  const addTail = line.tail && createTailExposer(memory, line.tail, shape, bitAt);

  return (packed, out) => {
    padded.set(packed.length === bytes ? packed : packed.subarray(0, bytes), clearBefore);
    if (closed && marginPx === 0) goRound(padded, clearBefore, bytes);
    windowOffsets(windows);
    for (let s = 0; s < samples; s++) sumTables(windows, s, out);
    addTail?.(packed, out);
  };
}

/** Repeats the `bytes` bytes from `first` on to both sides. */
function goRound(padded: Uint8Array, first: number, bytes: number): void {
  for (let i = first - 1; i >= 0; i--) padded[i] = padded[i + bytes];
  for (let i = first + bytes; i < padded.length; i++) padded[i] = padded[i - bytes];
}

const bitAt = (packed: Uint8Array, x: number): number => (packed[x >> 3] >> (7 - (x & 7))) & 1;

/**
 * Adds the tail of a long lag: a first-order recursion along the line, weighted for each sample.
 *
 * @param powerAt share of full power, 0..1, of pixel x of what is given of a line
 */
export function createTailExposer(
  memory: KernelMemory,
  { direction, from, decay, weights }: LagTail,
  { columns, marginPx, stride, closed }: LineShape,
  powerAt: (line: Uint8Array, x: number) => number,
): ExposeLine {
  const left = memory.float32(stride).subarray(0, columns);
  return (packed, out) => {
    let sum = 0;
    // On a closed line the tail of one turn reaches into the next. After two turns nothing is left.
    for (let turn = closed ? 2 : 1; turn > 0; turn--) {
      for (let n = 0; n < columns; n++) {
        const x = direction === 1 ? n : columns - 1 - n;
        const behind = x - direction * from;
        const source = closed ? modulo(behind, columns) : behind;
        sum *= decay;
        if (source >= 0 && source < columns) sum += powerAt(packed, source + marginPx);
        left[x] = sum;
      }
    }
    for (let s = 0; s < weights.length; s++) addScaledRow(memory, left, weights[s], out, s * stride);
  };
}
