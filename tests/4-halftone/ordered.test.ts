import { describe, expect, it } from "vitest";
import { bayerTile } from "../../src/4-halftone/bayer.js";
import { blueNoiseTile } from "../../src/4-halftone/blue-noise.js";
import { clusteredScreen } from "../../src/4-halftone/clustered-dot.js";
import { plainThreshold, startOrdered } from "../../src/4-halftone/ordered.js";
import type { ThresholdTile } from "../../src/4-halftone/threshold-tile.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import { plainMemory, simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";

/*
 * The definition, in exact numbers: burn if the fraction reaches (rank + ½) / n. Tiles with and without a shift, with widths
 * of whole and of partial vectors.
 */
const shifted = clusteredScreen(halftoneSettings({ screenLinesPerInch: 61.6, screenAngleDeg: 14.04 })).tile();

const tiles: readonly (readonly [name: string, tile: ThresholdTile])[] = [
  ["plain threshold", plainThreshold],
  ["Bayer 2 × 2", bayerTile(2)],
  ["Bayer 16 × 16", bayerTile(16)],
  ["blue noise", blueNoiseTile()],
  ["a screen", clusteredScreen(halftoneSettings()).tile()],
  ["a screen with a shift", shifted],
  [
    "a narrow tile with a shift",
    { columns: 5, rows: 1, shift: 2, ranks: Uint16Array.of(0, 3, 1, 4, 2), rankCount: 5 },
  ],
];

describe.each(tiles)("%s", (_name, tile) => {
  it.each([1, 8, 100, 333])("is compared as defined, %i columns", (columns) => {
    const rows = 150;
    const random = seededRandom(12);
    const fractions = Int16Array.from({ length: columns * rows }, () => Math.floor(16385 * random()));
    const expected = fractions.map((code, i) => {
      const y = Math.floor(i / columns);
      const moved = Math.floor(y / tile.rows) * tile.shift;
      const x = ((((i % columns) - moved) % tile.columns) + tile.columns) % tile.columns;
      const rank = tile.ranks[(y % tile.rows) * tile.columns + x];
      return code / 16384 >= (rank + 0.5) / tile.rankCount ? 1 : 0;
    });
    for (const memory of [plainMemory, simdMemory]) {
      const band = startOrdered(tile, { columns, rows, bandRows: rows, memory }, halftoneSettings());
      band.fractions.set(fractions);
      band.run(0, rows);
      const stride = Math.ceil(columns / 8);
      expect(unpackBitmap({ columns, rows, levels: 2, stride, bytes: band.packed })).toEqual(
        Uint8Array.from(expected),
      );
    }
  });
});
