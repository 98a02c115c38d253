import { FRACTION_ONE, STAYS_BARE } from "../core/burn-fraction.js";
import type { KernelMemory, SimdKernels } from "../core/kernel-memory.js";
import type { Tabulated } from "../core/tabulated.js";

const { fround } = Math;

/** Added to the burn fraction of a solid pixel. The balance then skips it. */
const SOLID_MARK = 65536;

/** Wanted luminance factor and its burn fraction, by luminance code. */
export interface PairTable {
  readonly simd: SimdKernels | undefined;
  /** [65536 × 2] Wanted luminance factor, and burn fraction in 16384ths. */
  readonly table: Float32Array;
  readonly bareCode: number;
  readonly solidCode: number;
}

/**
 * Writes the wanted luminance factor and the burn fraction of each pixel side by side. `own` takes the burn fraction again, marked
 * if the pixel must stay bare or solid.
 *
 * @param codes [columns]
 * @param pairs [columns × 2]
 * @param own [columns]
 */
export function burnPairs(
  { simd, table, bareCode, solidCode }: PairTable,
  codes: Uint16Array,
  pairs: Float32Array,
  own: Float32Array,
): void {
  const columns = own.length;
  if (simd) {
    const [from, tableAt] = [codes.byteOffset, table.byteOffset];
    simd.burnPairs(from, tableAt, bareCode, solidCode, columns, pairs.byteOffset, own.byteOffset);
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

/** Adds runs of `run` pixels to the cells of a coarser row. */
export function addRuns({ simd }: KernelMemory, pairs: Float32Array, run: number, sums: Float32Array): void {
  const cells = sums.length / 2;
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

/** The cells of a coarse row, and the burn fractions of their tones. */
export interface BalancedCells {
  readonly simd: SimdKernels | undefined;
  readonly cells: number;
  /** Burn fraction in 16384ths by wanted luminance factor. */
  readonly burnFor: Tabulated;
}

/** Burn fraction (1/16384) of each cell's blurred tone, less its blurred burn fraction, to out[at]… */
export function textureBalance(
  { simd, cells, burnFor }: BalancedCells,
  pairs: Float32Array,
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

/** Interpolation from cells to pixels, linear between the middles of cells. */
export interface CellSpread {
  readonly simd: SimdKernels | undefined;
  readonly cells: number;
  /** [pixels per cell] Weight of the later of the two cells around that place. */
  readonly share: Float32Array;
  /** Number of places before the middle of their cell. They lie between this cell and the one before. */
  readonly early: number;
}

/** Interpolates a coarse row to pixels. values[0] lies before the first cell. */
export function spreadCells(
  { simd, cells, share, early }: CellSpread,
  values: Float32Array,
  out: Float32Array,
): void {
  const run = share.length;
  if (simd) {
    simd.spreadCells(values.byteOffset, share.byteOffset, run, early, cells, out.byteOffset);
    return;
  }
  for (let i = 0, at = 0; i < cells; i++) {
    for (let p = 0; p < run; p++, at++) {
      const from = p < early ? values[i] : values[i + 1];
      const to = p < early ? values[i + 1] : values[i + 2];
      out[at] = from + fround(share[p] * fround(to - from));
    }
  }
}

/** The balance at a row between two coarse rows. */
export interface RowBalance {
  upper: Float32Array;
  lower: Float32Array;
  /** Weight of the lower row, 0..1. */
  weight: number;
}

/** Adds the balance to the burn fractions of the pixels, as integer codes. */
export function balanceRow(
  { simd }: KernelMemory,
  own: Float32Array,
  { upper, lower, weight }: RowBalance,
  out: Int16Array,
): void {
  const columns = own.length;
  if (simd) {
    const [from, above, below] = [own.byteOffset, upper.byteOffset, lower.byteOffset];
    simd.balanceRow(from, above, below, weight, columns, out.byteOffset);
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
