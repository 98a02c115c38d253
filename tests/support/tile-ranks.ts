import { startOrdered } from "../../src/4-halftone/ordered.js";
import type { ThresholdTile } from "../../src/4-halftone/threshold-tile.js";
import { fractionCode } from "../../src/core/burn-fraction.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { bytesPerPackedRow, unpackRow } from "../../src/core/packed-bits.js";
import { halftoneSettings } from "./halftone-settings.js";

const memory = createKernelMemory();

/**
 * The rank of every pixel of a plane under a tile, read from the bits alone: the number of evenly spaced tints, one for
 * each rank, at which the pixel stays bare.
 */
export function ranksFromTints(tile: ThresholdTile, columns: number, rows: number): Uint32Array {
  const handBack = memory.mark();
  const band = startOrdered(tile, { columns, rows, bandRows: rows, memory }, halftoneSettings());
  const ranks = new Uint32Array(columns * rows);
  const bits = new Uint8Array(columns);
  for (let level = 1; level <= tile.rankCount; level++) {
    band.fractions.fill(fractionCode(level / tile.rankCount));
    band.run(0, rows);
    for (let y = 0; y < rows; y++) {
      unpackRow(band.packed, y * bytesPerPackedRow(columns), columns, bits, 0);
      for (let x = 0; x < columns; x++) ranks[y * columns + x] += 1 - bits[x];
    }
  }
  handBack();
  return ranks;
}
