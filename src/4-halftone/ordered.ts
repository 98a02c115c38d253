import type { RowHalftone } from "./method.js";

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

/** Compare each fraction with the tile's threshold; no pixel knows its neighbours. */
export function orderedDither(tile: ThresholdTile): RowHalftone {
  const thresholds = Float32Array.from(tile.ranks, (rank) => (rank + 0.5) / tile.rankCount);
  return (fractions, y, bits) => {
    const row = (y % tile.rows) * tile.columns;
    const moved = (Math.floor(y / tile.rows) * tile.shift) % tile.columns;
    let at = (tile.columns - moved) % tile.columns;
    for (let x = 0; x < bits.length; x++) {
      bits[x] = fractions[x] >= thresholds[row + at] ? 1 : 0;
      if (++at === tile.columns) at = 0;
    }
  };
}

/** Burn where the fraction reaches one half: line art only. */
export const plainThreshold: RowHalftone = (fractions, _y, bits) => {
  for (let x = 0; x < bits.length; x++) bits[x] = fractions[x] >= 0.5 ? 1 : 0;
};
