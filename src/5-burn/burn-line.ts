import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow } from "../core/packed-bits.js";
import type { LagTail, SampleTaps } from "./exposure-plan.js";
import { GROUP_PX, lineTables } from "./line-tables.js";

/** Bytes read past the end of a window's first byte. */
const READ_AHEAD_BYTES = 3;

/**
 * Burns one line by itself: its dose along, before the spread across.
 *
 * @param packed bits of the line, leftmost pixel in the highest bit
 * @param out [samples × stride] one row for each sample of a pixel
 */
export type BurnLine = (packed: Uint8Array, out: Float32Array) => void;

/**
 * @param line taps of this kind of line
 * @param stride floats from one sample's row to the next; a multiple of 8 and at least `columns`
 * @param closed whether the line's last pixel and its first are neighbours; `columns` is then a multiple of 8
 */
export function createLineBurner(
  memory: KernelMemory,
  line: SampleTaps,
  samples: number,
  columns: number,
  stride: number,
  closed = false,
): BurnLine {
  const { bits, parts, tables } = lineTables(memory, line, samples);
  const groups = stride / GROUP_PX;
  const step = bits / GROUP_PX;
  const pairs = Math.ceil((groups + (parts - 1) * step) / 2);
  const bytes = bytesPerPackedRow(columns);
  const clearBefore = Math.ceil(line.before / 8);
  const firstBit = 8 * clearBefore - line.before;
  const padded = memory.uint8(Math.max(clearBefore + bytes, (firstBit >> 3) + pairs) + READ_AHEAD_BYTES);
  const offsets = memory.int32(2 * pairs);
  const perSample = tables.length / samples;
  const tableLength = perSample / parts;
  const { simd } = memory;
  const addTail = line.tail && createTailBurner(memory, line.tail, columns, stride, closed, bitAt);

  return (packed, out) => {
    padded.set(packed.length === bytes ? packed : packed.subarray(0, bytes), clearBefore);
    if (closed) goRound(padded, clearBefore, bytes);
    windowOffsets(memory, padded, firstBit, pairs, bits, offsets);
    for (let s = 0; s < samples; s++) {
      if (simd) {
        simd.sumTables(
          offsets.byteOffset,
          groups,
          tables.byteOffset + 4 * s * perSample,
          parts,
          4 * tableLength,
          step,
          out.byteOffset + 4 * s * stride,
        );
      } else sumTables(offsets, groups, tables, s * perSample, parts, tableLength, step, out, s * stride);
    }
    addTail?.(packed, out);
  };
}

/** Continues the `bytes` bytes from `first` on with themselves to both sides. */
function goRound(padded: Uint8Array, first: number, bytes: number): void {
  for (let i = first - 1; i >= 0; i--) padded[i] = padded[i + bytes];
  for (let i = first + bytes; i < padded.length; i++) padded[i] = padded[i - bytes];
}

/** Byte offsets into tables of 16-byte entries, for windows of `bits` bits that start at every fourth bit. */
function windowOffsets(
  { simd }: KernelMemory,
  padded: Uint8Array,
  firstBit: number,
  pairs: number,
  bits: 4 | 8,
  offsets: Int32Array,
): void {
  if (simd) {
    simd.windowOffsets(padded.byteOffset, firstBit, pairs, bits === 4 ? 1 : 0, offsets.byteOffset);
    return;
  }
  const even = 16 - (firstBit & 7);
  const odd = even - GROUP_PX;
  const shift = bits === 4 ? 0 : 4;
  const mask = bits === 4 ? 0xf0 : 0xff0;
  let at = firstBit >> 3;
  let word = (padded[at] << 8) | padded[at + 1];
  for (let n = 0; n < 2 * pairs; n += 2, at++) {
    word = ((word << 8) | padded[at + 2]) & 0xffffff;
    offsets[n] = ((word >> even) << shift) & mask;
    offsets[n + 1] = ((word >> odd) << shift) & mask;
  }
}

/** out = Σ over the parts of a window of the table entries that its bits pick. */
function sumTables(
  offsets: Int32Array,
  groups: number,
  tables: Float32Array,
  firstTable: number,
  parts: number,
  tableLength: number,
  step: number,
  out: Float32Array,
  to: number,
): void {
  for (let g = 0, i = to; g < groups; g++, i += GROUP_PX) {
    const entry = firstTable + (offsets[g] >> 2);
    let dose0 = tables[entry];
    let dose1 = tables[entry + 1];
    let dose2 = tables[entry + 2];
    let dose3 = tables[entry + 3];
    for (let part = 1; part < parts; part++) {
      const more = firstTable + part * tableLength + (offsets[g + part * step] >> 2);
      dose0 = Math.fround(dose0 + tables[more]);
      dose1 = Math.fround(dose1 + tables[more + 1]);
      dose2 = Math.fround(dose2 + tables[more + 2]);
      dose3 = Math.fround(dose3 + tables[more + 3]);
    }
    out[i] = dose0;
    out[i + 1] = dose1;
    out[i + 2] = dose2;
    out[i + 3] = dose3;
  }
}

const bitAt = (packed: Uint8Array, x: number): number => (packed[x >> 3] >> (7 - (x & 7))) & 1;

/**
 * Adds a long lag's tail: a first-order recursion along the line, weighted for each sample.
 *
 * @param powerAt share of full power, 0..1, of pixel x of a line
 */
export function createTailBurner(
  memory: KernelMemory,
  { direction, from, decay, weights }: LagTail,
  columns: number,
  stride: number,
  closed: boolean,
  powerAt: (line: Uint8Array, x: number) => number,
): BurnLine {
  const left = memory.float32(stride);
  return (packed, out) => {
    let sum = 0;
    // What a closed line has left of a turn goes into the next; what is left of two is nothing.
    for (let turn = closed ? 2 : 1; turn > 0; turn--) {
      for (let n = 0; n < columns; n++) {
        const x = direction === 1 ? n : columns - 1 - n;
        const behind = x - direction * from;
        const source = closed ? ((behind % columns) + columns) % columns : behind;
        sum *= decay;
        if (source >= 0 && source < columns) sum += powerAt(packed, source);
        left[x] = sum;
      }
    }
    for (let s = 0; s < weights.length; s++) addScaledRow(memory, out, s * stride, left, weights[s], columns);
  };
}

/** out[to + i] += weight · row[i] */
function addScaledRow(
  { simd }: KernelMemory,
  out: Float32Array,
  to: number,
  row: Float32Array,
  weight: number,
  count: number,
): void {
  if (simd) {
    simd.addScaledRow(out.byteOffset + 4 * to, row.byteOffset, weight, count);
    return;
  }
  const w = Math.fround(weight);
  for (let i = 0; i < count; i++) out[to + i] += Math.fround(w * row[i]);
}
