import { FRACTION_ONE, STAYS_BARE } from "../core/burn-fraction.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { Tabulated } from "../core/tabulated.js";

const { fround } = Math;

/** Added to the burn fraction of a pixel that is to be solid, so that the balance passes it by. */
const SOLID_MARK = 65536;

/**
 * Each pixel's wanted luminance factor and burn fraction side by side, from a table by luminance code; and its own burn
 * fraction once more, marked where the pixel is to stay bare or solid.
 */
export function burnPairs(
  { simd }: KernelMemory,
  codes: Uint16Array,
  table: Float32Array,
  bareCode: number,
  solidCode: number,
  columns: number,
  pairs: Float32Array,
  own: Float32Array,
): void {
  if (simd) {
    const { byteOffset } = codes;
    simd.burnPairs(
      byteOffset,
      table.byteOffset,
      bareCode,
      solidCode,
      columns,
      pairs.byteOffset,
      own.byteOffset,
    );
    return;
  }
  for (let x = 0; x < columns; x++) {
    const code = codes[x];
    const fraction = table[2 * code + 1];
    pairs[2 * x] = table[2 * code];
    pairs[2 * x + 1] = fraction;
    own[x] = code === bareCode ? STAYS_BARE : code === solidCode ? fraction + SOLID_MARK : fraction;
  }
}

/** Add runs of pixels to the cells of a coarser row. */
export function addRuns(
  { simd }: KernelMemory,
  pairs: Float32Array,
  run: number,
  cells: number,
  sums: Float32Array,
): void {
  if (simd) {
    simd.addRuns(pairs.byteOffset, run, cells, sums.byteOffset);
    return;
  }
  for (let i = 0, at = 0; i < cells; i++) {
    for (let k = 0; k < run; k++, at += 2) {
      sums[2 * i] += pairs[at];
      sums[2 * i + 1] += pairs[at + 1];
    }
  }
}

/** Burn fraction (1/16384) of each cell's blurred tone, less its blurred burn fraction, to out[at]… */
export function textureBalance(
  { simd }: KernelMemory,
  pairs: Float32Array,
  burnFor: Tabulated,
  cells: number,
  out: Float32Array,
  at: number,
): void {
  const { values, low, stepsPerUnit } = burnFor;
  const last = values.length - 2;
  if (simd) {
    const to = out.byteOffset + 4 * at;
    simd.textureBalance(pairs.byteOffset, values.byteOffset, low, stepsPerUnit, last, cells, to);
    return;
  }
  const from = fround(low);
  const steps = fround(stepsPerUnit);
  for (let i = 0; i < cells; i++) {
    const place = fround(fround(pairs[2 * i] - from) * steps);
    const nearest = fround(Math.min(last, Math.max(0, place)) + 0.5) | 0;
    out[at + i] = values[nearest] - pairs[2 * i + 1];
  }
}

/** A coarse row spread over the pixels; cells[0] lies before the first cell. */
export function spreadCells(
  { simd }: KernelMemory,
  cells: Float32Array,
  share: Float32Array,
  early: number,
  count: number,
  out: Float32Array,
): void {
  const run = share.length;
  if (simd) {
    simd.spreadCells(cells.byteOffset, share.byteOffset, run, early, count, out.byteOffset);
    return;
  }
  for (let i = 0, at = 0; i < count; i++) {
    for (let p = 0; p < run; p++, at++) {
      const from = p < early ? cells[i] : cells[i + 1];
      const to = p < early ? cells[i + 1] : cells[i + 2];
      out[at] = from + fround(share[p] * fround(to - from));
    }
  }
}

/** The pixels' own burn fractions with the balance between two coarse rows added, as integer codes. */
export function balanceRow(
  { simd }: KernelMemory,
  own: Float32Array,
  upper: Float32Array,
  lower: Float32Array,
  weight: number,
  columns: number,
  out: Int16Array,
): void {
  if (simd) {
    const { byteOffset } = own;
    simd.balanceRow(byteOffset, upper.byteOffset, lower.byteOffset, weight, columns, out.byteOffset);
    return;
  }
  const share = fround(weight);
  for (let x = 0; x < columns; x++) {
    const added = fround(upper[x] + fround(share * fround(lower[x] - upper[x])));
    const balanced = Math.min(FRACTION_ONE, Math.max(0, fround(own[x] + added)));
    const fraction = own[x] >= SOLID_MARK / 2 ? own[x] - SOLID_MARK : balanced;
    out[x] = own[x] < 0 ? STAYS_BARE : fround(fraction + 0.5) | 0;
  }
}

/** Burn fractions by luminance code, straight from a table. */
export function burnCodes(
  { simd }: KernelMemory,
  codes: Uint16Array,
  table: Int16Array,
  columns: number,
  out: Int16Array,
): void {
  if (simd) {
    simd.burnCodes(codes.byteOffset, table.byteOffset, columns, out.byteOffset);
    return;
  }
  for (let x = 0; x < columns; x++) out[x] = table[codes[x]];
}
