import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { SimdKernels } from "../core/kernel-memory.js";
import type { BandRow } from "./band.js";

/** Thresholds in one vector. */
export const LANES = 16;

/** A tile of thresholds in the layout of the loops. */
export interface LaidTile {
  readonly simd: SimdKernels | undefined;
  readonly columns: number;
  readonly levels: number;
  /** [tile rows × (period + LANES)] Each tile row repeated to whole vectors, plus one vector. */
  readonly thresholds: Int16Array;
  /** Thresholds after which a row repeats; a multiple of `LANES`. */
  readonly period: number;
}

/**
 * Compares a row of fractions with a row of thresholds that starts at `first` in the tile.
 *
 * @param phase index of the threshold of column 0, from `first` on
 */
export function compareRow(tile: LaidTile, row: BandRow, first: number, phase: number): void {
  const { simd, columns, thresholds, period } = tile;
  if (tile.levels > 2) compareLevels(tile, row, first, phase);
  else if (simd) {
    simd.compareRow(
      row.fractions.byteOffset + 2 * row.from,
      columns,
      thresholds.byteOffset + 2 * first,
      period,
      phase,
      row.packed.byteOffset + row.to,
    );
  } else compareBits(tile, row, first, phase);
}

function compareBits(
  { columns, thresholds, period }: LaidTile,
  row: BandRow,
  first: number,
  phase: number,
): void {
  const { fractions, from, packed } = row;
  let to = row.to;
  let at = first + phase;
  const wrap = first + period;
  for (let x = 0; x < columns; ) {
    const end = Math.min(columns, x + 8);
    let byte = 0;
    for (let mask = 128; x < end; x++, mask >>= 1) {
      byte |= ((thresholds[at] - 1 - fractions[from + x]) >> 31) & mask;
      if (++at === wrap) at = first;
    }
    packed[to++] = byte;
  }
}

/** The same with more than two levels: ⌊steps · fraction + 1 − threshold⌋. */
function compareLevels(
  { columns, levels, thresholds, period }: LaidTile,
  row: BandRow,
  first: number,
  phase: number,
): void {
  const { fractions, from, packed, to } = row;
  const steps = levels - 1;
  const wrap = first + period;
  for (let x = 0, at = first + phase; x < columns; x++) {
    const fraction = Math.max(0, fractions[from + x]);
    packed[to + x] = (fraction * steps + FRACTION_ONE - thresholds[at]) >> 14;
    if (++at === wrap) at = first;
  }
}
