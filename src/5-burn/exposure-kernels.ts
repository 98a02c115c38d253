import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";

/** Pixels per table entry. */
export const GROUP_PX = 4;

/** The windows of bits of a line, and their tables: see `lineTables`. */
export interface LineWindows {
  readonly simd: SimdKernels | undefined;
  /** Bits of the line, with margins where nothing burns. */
  readonly padded: Uint8Array;
  /** Start of the first window in `padded`. A window starts at every fourth bit. */
  readonly firstBit: number;
  /** [2 · pairs] Byte offset of each window's entry in a table. */
  readonly offsets: Int32Array;
  /** [samples × parts × 2^bits × GROUP_PX] */
  readonly tables: Float32Array;
  /** Bits per table, and tables per window. */
  readonly bits: 4 | 8;
  readonly parts: number;
  readonly samples: number;
  /** Floats from one sample's row of doses to the next. */
  readonly stride: number;
}

/** Byte offsets into tables of 16-byte entries, for windows that start at every fourth bit. */
export function windowOffsets({ simd, padded, firstBit, bits, offsets }: LineWindows): void {
  if (simd) {
    const halves = bits === 4 ? 1 : 0;
    simd.windowOffsets(padded.byteOffset, firstBit, offsets.length / 2, halves, offsets.byteOffset);
    return;
  }
  const even = 16 - (firstBit & 7);
  const odd = even - GROUP_PX;
  const shift = bits === 4 ? 0 : 4;
  const mask = bits === 4 ? 0xf0 : 0xff0;
  let at = firstBit >> 3;
  let word = (padded[at] << 8) | padded[at + 1];
  for (let n = 0; n < offsets.length; n += 2, at++) {
    word = ((word << 8) | padded[at + 2]) & 0xffffff;
    offsets[n] = ((word >> even) << shift) & mask;
    offsets[n + 1] = ((word >> odd) << shift) & mask;
  }
}

/** Dose of a line at sample s of its pixels: for each window the sum of one entry from each table, picked by its bits. */
export function sumTables(line: LineWindows, s: number, out: Float32Array): void {
  const { simd, offsets, tables, bits, parts, stride } = line;
  const groups = stride / GROUP_PX;
  const step = bits / GROUP_PX;
  const tableLength = GROUP_PX * 2 ** bits;
  const firstTable = s * parts * tableLength;
  if (simd) {
    const [from, to] = [tables.byteOffset + 4 * firstTable, out.byteOffset + 4 * s * stride];
    simd.sumTables(offsets.byteOffset, groups, from, parts, 4 * tableLength, step, to);
    return;
  }
  for (let g = 0, i = s * stride; g < groups; g++, i += GROUP_PX) {
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

/** out[to + i] += weight · row[i] */
export function addScaledRow(
  { simd }: KernelMemory,
  row: Float32Array,
  weight: number,
  out: Float32Array,
  to: number,
): void {
  if (simd) {
    simd.addScaledRow(out.byteOffset + 4 * to, row.byteOffset, weight, row.length);
    return;
  }
  const w = Math.fround(weight);
  for (let i = 0; i < row.length; i++) out[to + i] += Math.fround(w * row[i]);
}

/** Sums that one call may make from the same source rows. */
export const MAX_SUMS = 3;

/** Source rows of weighted sums, and the output. */
export interface WeighedRows {
  readonly simd: SimdKernels | undefined;
  readonly rows: readonly Float32Array[];
  /** Their byte offsets, for the vector form. */
  readonly addresses: Int32Array;
  /** Floats of a row; the vector form writes up to a whole multiple of 16. */
  readonly length: number;
  /** [MAX_SUMS × length] */
  readonly out: Float32Array;
}

/** Weights of several sums of the same rows. */
export interface RowWeights {
  /** 1 to `MAX_SUMS`. */
  readonly sums: number;
  /** [rows × sums] */
  readonly weights: Float32Array;
}

/**
 * Weighted sums of rows: out[t · length + i] = Σ_k weights[(firstWeight + k) · sums + t] · rows[first + k][i], k rising from 0 to
 * `count`, in single precision.
 */
export function weighRows(
  weighed: WeighedRows,
  group: RowWeights,
  first: number,
  count: number,
  firstWeight: number,
): void {
  const { simd, rows, addresses, length, out } = weighed;
  const { sums, weights } = group;
  if (simd) {
    const from = addresses.byteOffset + 4 * first;
    const weightsAt = weights.byteOffset + 4 * firstWeight * sums;
    const to = out.byteOffset;
    if (sums === 1) simd.weighRows1(from, weightsAt, count, to, length);
    else if (sums === 2) simd.weighRows2(from, weightsAt, count, to, 4 * length, length);
    else simd.weighRows3(from, weightsAt, count, to, 4 * length, length);
    return;
  }
  for (let t = 0; t < sums; t++) {
    const sum = out.subarray(t * length, (t + 1) * length);
    sum.fill(0);
    let k = first;
    let at = firstWeight * sums + t;
    for (; k + 2 < first + count; k += 3, at += 3 * sums) addThree(sum, rows, k, group, at);
    for (; k < first + count; k++, at += sums) addScaled(sum, rows[k], weights[at]);
  }
}

/** Adds three rows at a time, so the sum is read and written only once. */
function addThree(
  sum: Float32Array,
  rows: readonly Float32Array[],
  k: number,
  { sums, weights }: RowWeights,
  at: number,
): void {
  const [row0, row1, row2] = [rows[k], rows[k + 1], rows[k + 2]];
  const [weight0, weight1, weight2] = [weights[at], weights[at + sums], weights[at + 2 * sums]];
  for (let i = 0; i < sum.length; i++) {
    const one = Math.fround(sum[i] + Math.fround(weight0 * row0[i]));
    const two = Math.fround(one + Math.fround(weight1 * row1[i]));
    sum[i] = two + Math.fround(weight2 * row2[i]);
  }
}

function addScaled(sum: Float32Array, row: Float32Array, weight: number): void {
  for (let i = 0; i < sum.length; i++) sum[i] += Math.fround(weight * row[i]);
}
