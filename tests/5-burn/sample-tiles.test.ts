import { describe, expect, it } from "vitest";
import { sampleTiles } from "../../src/5-burn/sample-tiles.js";

describe.each([
  [4000, 3000],
  [23622, 15748],
  [5003, 611],
  [420, 9000],
  [2000, 2001],
])("tiles of %d × %d pixels", (columns, rows) => {
  const tiles = sampleTiles(columns, rows, 416, 2e6);

  it("lie inside, apart from one another", () => {
    tiles.forEach((a, k) => {
      expect(a.left).toBeGreaterThanOrEqual(0);
      expect(a.top).toBeGreaterThanOrEqual(0);
      expect(a.left + a.columns).toBeLessThanOrEqual(columns);
      expect(a.top + a.rows).toBeLessThanOrEqual(rows);
      for (const b of tiles.slice(k + 1)) {
        const beside = a.left + a.columns <= b.left || b.left + b.columns <= a.left;
        const below = a.top + a.rows <= b.top || b.top + b.rows <= a.top;
        expect(beside || below).toBe(true);
      }
    });
  });

  it("show about as much as is wanted, or as fits", () => {
    const shown = tiles.reduce((sum, tile) => sum + tile.columns * tile.rows, 0);
    expect(shown).toBeGreaterThan(Math.min(2e6, columns * rows) * 0.4);
    expect(shown).toBeLessThan(2e6 * 1.5);
  });

  it("touch every side of the picture", () => {
    const touches = (side: (tile: (typeof tiles)[number]) => boolean): boolean => tiles.some(side);
    expect(touches(({ left }) => left === 0)).toBe(true);
    expect(touches(({ top }) => top === 0)).toBe(true);
    expect(touches(({ left, columns: width }) => left + width === columns)).toBe(true);
    expect(touches(({ top, rows: height }) => top + height === rows)).toBe(true);
  });

  it("reach every quarter of the picture, and are the same each time", () => {
    expect(sampleTiles(columns, rows, 416, 2e6)).toEqual(tiles);
    if (columns < 900 || rows < 900) return;
    for (const [right, bottom] of [
      [false, false],
      [true, false],
      [false, true],
      [true, true],
    ]) {
      const within = tiles.some(
        ({ left, top, columns: width, rows: height }) =>
          left + width / 2 > columns / 2 === right && top + height / 2 > rows / 2 === bottom,
      );
      expect(within).toBe(true);
    }
  });
});
