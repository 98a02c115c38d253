import { FRACTION_ONE } from "../core/burn-fraction.js";
import { modulo } from "../core/modulo.js";
import { bandHalftone, type RowLoop, rowByRow } from "./band.js";
import type { BandHalftone, BandWork, HalftoneSettings } from "./method.js";
import { compareRow, LANES, type LaidTile } from "./ordered-kernels.js";
import type { ThresholdTile } from "./threshold-tile.js";

/** One rank for all pixels: they burn if the fraction reaches one half. */
export const plainThreshold: ThresholdTile = {
  columns: 1,
  rows: 1,
  shift: 0,
  ranks: Uint16Array.of(0),
  rankCount: 1,
};

/**
 * Compares each fraction with the threshold of the tile. Pixels do not depend on their neighbours. With more than two power
 * levels the tile decides between the two levels around the fraction.
 */
export function startOrdered(tile: ThresholdTile, work: BandWork, settings: HalftoneSettings): BandHalftone {
  const laid = layTile(tile, work, settings.levels);
  const stride = laid.period + LANES;
  const loop: RowLoop = {
    runRow: (row) => {
      const phase = modulo(-Math.floor(row.y / tile.rows) * tile.shift, tile.columns);
      compareRow(laid, row, modulo(row.y, tile.rows) * stride, phase);
    },
    restart: () => {},
  };
  return bandHalftone(work, rowByRow(loop, work, settings), 0, settings.levels);
}

/** Thresholds as fraction codes, ⌈16384 (rank + ½) / n⌉. */
function layTile(tile: ThresholdTile, { columns, memory }: BandWork, levels: number): LaidTile {
  const { ranks, rankCount } = tile;
  let period = tile.columns;
  while (period % LANES !== 0) period += tile.columns;
  const stride = period + LANES;
  const thresholds = memory.int16(tile.rows * stride);
  for (let y = 0; y < tile.rows; y++) {
    for (let x = 0; x < stride; x++) {
      const rank = ranks[y * tile.columns + (x % tile.columns)];
      thresholds[y * stride + x] = Math.ceil((FRACTION_ONE * (2 * rank + 1)) / (2 * rankCount));
    }
  }
  return { simd: memory.simd, columns, levels, thresholds, period };
}
