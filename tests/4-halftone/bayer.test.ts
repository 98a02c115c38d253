import { describe, expect, it } from "vitest";
import { bayerTile } from "../../src/4-halftone/bayer.js";
import { publishedTable } from "../support/halftone-tables.js";
import { ranksFromTints } from "../support/tile-ranks.js";

const published = publishedTable<{ matrices: Readonly<Record<string, readonly (readonly number[])[]>> }>(
  "ordered/bayer-recursive",
).matrices;

describe.each([2, 4, 8, 16] as const)("Bayer tile of side %i", (side) => {
  it("is the published matrix", () => {
    expect([...bayerTile(side).ranks]).toEqual(published[side].flat());
  });

  it("burns the pixels of each tint in that order, all over the plane", () => {
    const ranks = ranksFromTints(bayerTile(side), 2 * side, 2 * side);
    ranks.forEach((rank, i) => {
      const x = i % (2 * side);
      const y = Math.floor(i / (2 * side));
      expect(rank).toBe(published[side][y % side][x % side]);
    });
  });
});
