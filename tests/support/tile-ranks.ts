import { orderedDither, type ThresholdTile } from "../../src/4-halftone/ordered.js";

/**
 * The rank of every pixel of a plane under a tile, read from the bits alone: the number of evenly spaced tints, one for
 * each rank, at which the pixel stays bare.
 */
export function ranksFromTints(tile: ThresholdTile, columns: number, rows: number): Uint32Array {
  const ranks = new Uint32Array(columns * rows);
  const bits = new Uint8Array(columns);
  for (let level = 1; level <= tile.rankCount; level++) {
    const tint = new Float32Array(columns).fill(level / tile.rankCount);
    const nextRow = orderedDither(tile);
    for (let y = 0; y < rows; y++) {
      nextRow(tint, y, bits);
      for (let x = 0; x < columns; x++) ranks[y * columns + x] += 1 - bits[x];
    }
  }
  return ranks;
}
