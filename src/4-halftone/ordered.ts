import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerRow } from "../core/packed-bits.js";
import { type BandLoop, bandHalftone } from "./band.js";
import type { BandHalftone, BandSize } from "./method.js";

/**
 * A tile of thresholds that covers the plane: `columns` × `rows` ranks 0..n−1, each repeat further down moved `shift`
 * columns to the right (0 for a plain rectangle). A pixel burns where its fraction reaches (rank + ½) / n.
 */
export interface ThresholdTile {
  readonly columns: number;
  readonly rows: number;
  readonly shift: number;
  /** Row-major ranks; 32 bits where a coarse screen on a fine grid has more than 65536 pixels to a cell. */
  readonly ranks: Uint16Array | Uint32Array;
  /** Number of distinct ranks n. */
  readonly rankCount: number;
}

/** One rank for all: burn where the fraction reaches one half. */
export const plainThreshold: ThresholdTile = {
  columns: 1,
  rows: 1,
  shift: 0,
  ranks: Uint16Array.of(0),
  rankCount: 1,
};

/** Thresholds that a vector takes at once. */
const LANES = 16;

/**
 * Compare each fraction with the tile's threshold; no pixel knows its neighbours. With more than two power levels the tile
 * decides between the two levels beside the fraction.
 */
export function startOrdered(
  tile: ThresholdTile,
  size: BandSize,
  memory: KernelMemory,
  levels = 2,
): BandHalftone {
  const { columns } = size;
  const bytes = bytesPerRow(columns, levels);
  const { thresholds, period } = thresholdRows(tile, memory);
  const stride = period + LANES;

  /** Where row y starts in `thresholds`: its tile row, moved along. */
  const phaseOf = (y: number): number =>
    modulo(-Math.floor(y / tile.rows) * tile.shift, tile.columns) + modulo(y, tile.rows) * stride;

  const loop: BandLoop = {
    run: (fractions, packed, y, rows) => {
      for (let row = 0; row < rows; row++) {
        const at = phaseOf(y + row);
        const phase = at % stride;
        if (levels > 2) {
          const ofRow = thresholds.subarray(at - phase, at - phase + stride);
          levelRow(levels, fractions, row * columns, columns, ofRow, period, phase, packed, row * bytes);
        } else if (memory.simd) {
          memory.simd.compareRow(
            fractions.byteOffset + 2 * row * columns,
            columns,
            thresholds.byteOffset + 2 * (at - phase),
            period,
            phase,
            packed.byteOffset + row * bytes,
          );
        } else {
          const ofRow = thresholds.subarray(at - phase, at - phase + stride);
          compareRow(fractions, row * columns, columns, ofRow, period, phase, packed, row * bytes);
        }
      }
    },
    restart: () => {},
  };
  return bandHalftone(size, memory, loop, 0, levels);
}

/**
 * Thresholds as fraction codes, ⌈16384 (rank + ½) / n⌉: [tile.rows × (period + 16)], each tile row repeated to a period that is
 * whole vectors, and a vector more.
 */
function thresholdRows(
  tile: ThresholdTile,
  memory: KernelMemory,
): { thresholds: Int16Array; period: number } {
  const { columns, rows, ranks, rankCount } = tile;
  let period = columns;
  while (period % LANES !== 0) period += columns;
  const stride = period + LANES;
  const thresholds = memory.int16(rows * stride);
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < stride; x++) {
      const rank = ranks[y * columns + (x % columns)];
      thresholds[y * stride + x] = Math.ceil((FRACTION_ONE * (2 * rank + 1)) / (2 * rankCount));
    }
  }
  return { thresholds, period };
}

/** The plain form of `src/simd/ordered.ts`. */
function compareRow(
  fractions: Int16Array,
  from: number,
  columns: number,
  thresholds: Int16Array,
  period: number,
  phase: number,
  packed: Uint8Array,
  to: number,
): void {
  let at = phase;
  for (let x = 0; x < columns; ) {
    const end = Math.min(columns, x + 8);
    let byte = 0;
    for (let mask = 128; x < end; x++, mask >>= 1) {
      byte |= ((thresholds[at] - 1 - fractions[from + x]) >> 31) & mask;
      if (++at === period) at = 0;
    }
    packed[to++] = byte;
  }
}

/** The same with more than two levels: ⌊steps · fraction + 1 − threshold⌋. */
function levelRow(
  levels: number,
  fractions: Int16Array,
  from: number,
  columns: number,
  thresholds: Int16Array,
  period: number,
  phase: number,
  out: Uint8Array,
  to: number,
): void {
  const steps = levels - 1;
  for (let x = 0, at = phase; x < columns; x++) {
    const fraction = Math.max(0, fractions[from + x]);
    out[to + x] = (fraction * steps + FRACTION_ONE - thresholds[at]) >> 14;
    if (++at === period) at = 0;
  }
}

const modulo = (value: number, period: number): number => ((value % period) + period) % period;
