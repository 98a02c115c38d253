import { describe, expect, it } from "vitest";
import { allTiles, HALO_PX, type JudgedTiles, sampledTiles } from "../../src/5-burn/judged-tiles.js";
import type { PixelRectangle } from "../../src/core/pixel-rectangle.js";

const reach = { alongPx: 5, acrossPx: 3 };

const right = ({ left, columns }: PixelRectangle): number => left + columns;
const bottom = ({ top, rows }: PixelRectangle): number => top + rows;

/** How many cores cover each pixel: least and most over the picture without its margin, most over the margin. */
function cover({ tiles }: JudgedTiles, columns: number, rows: number, marginPx: number) {
  const times = new Uint8Array(columns * rows);
  for (const { core } of tiles) {
    for (let y = core.top; y < bottom(core); y++) {
      for (let x = core.left; x < right(core); x++) times[y * columns + x]++;
    }
  }
  const inner = times.filter((_, i) => {
    const [x, y] = [i % columns, Math.floor(i / columns)];
    return x >= marginPx && y >= marginPx && x < columns - marginPx && y < rows - marginPx;
  });
  const covered = times.reduce((sum, n) => sum + n, 0);
  return { least: Math.min(...bounds(inner)), most: Math.max(...bounds(inner)), covered };
}

/** Least and greatest, without spreading a long array. */
function bounds(values: Uint8Array): [number, number] {
  let [low, high] = [255, 0];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return [low, high];
}

function expectWellPlaced({ tiles, sidePx }: JudgedTiles, columns: number, rows: number): void {
  for (const { core, seen, burned } of tiles) {
    expect(core.columns).toBeLessThanOrEqual(sidePx - 2 * HALO_PX);
    expect(core.rows).toBeLessThanOrEqual(sidePx - 2 * HALO_PX);
    expect(seen.left).toBe(Math.max(0, core.left - HALO_PX));
    expect(seen.top).toBe(Math.max(0, core.top - HALO_PX));
    expect(right(seen)).toBe(Math.min(columns, right(core) + HALO_PX));
    expect(bottom(seen)).toBe(Math.min(rows, bottom(core) + HALO_PX));
    expect(burned.left % 8).toBe(0);
    expect(burned.top % 2).toBe(0);
    expect(burned.left).toBeGreaterThanOrEqual(0);
    expect(burned.top).toBeGreaterThanOrEqual(0);
    expect(burned.left).toBeLessThanOrEqual(Math.max(0, seen.left - reach.alongPx));
    expect(burned.top).toBeLessThanOrEqual(Math.max(0, seen.top - reach.acrossPx));
    expect(right(burned)).toBeGreaterThanOrEqual(Math.min(columns, right(seen) + reach.alongPx));
    expect(right(burned) % 8 === 0 || right(burned) === columns).toBe(true);
    expect(right(burned)).toBeLessThanOrEqual(columns);
    expect(bottom(burned)).toBe(Math.min(rows, bottom(seen) + reach.acrossPx));
  }
}

describe("all tiles", () => {
  it.each([
    [1, 1, 256, 1, 0],
    [5, 3, 256, 1, 1],
    [100, 60, 256, 1, 16],
    [200, 150, 512, 1, 16],
    [928, 928, 1024, 1, 16],
    [929, 100, 1024, 2, 16],
    [1937, 1101, 1024, 6, 16],
  ])("of %d × %d pixels cover it once, margin apart", (columns, rows, sidePx, count, marginPx) => {
    const all = allTiles({ columns, rows }, reach);
    expect(all.sidePx).toBe(sidePx);
    expect(all.share).toBe(1);
    expect(all.tiles.length).toBe(count);
    const { least, most, covered } = cover(all, columns, rows, marginPx);
    expect([least, most]).toEqual([1, 1]);
    expect(covered).toBe((columns - 2 * marginPx) * (rows - 2 * marginPx));
    expectWellPlaced(all, columns, rows);
  });
});

describe("sampled tiles", () => {
  it.each([
    [3000, 2000, 1024, 2e6],
    [3000, 2000, 512, 1e6],
    [6000, 700, 512, 4e5],
    [700, 3000, 512, 4e5],
    [2500, 300, 512, 2e5],
    [1500, 1500, 256, 1e5],
  ])(
    "of %d × %d pixels, filtered at %d, lie apart and state their share",
    (columns, rows, sidePx, wantedPx) => {
      const sample = sampledTiles({ columns, rows }, reach, { sidePx, wantedPx });
      expect(sample.sidePx).toBe(sidePx);
      const { most, covered } = cover(sample, columns, rows, 16);
      expect(most).toBe(1);
      expect(sample.share).toBeCloseTo(covered / ((columns - 32) * (rows - 32)), 12);
      expect(sample.share).toBeLessThan(1);
      expect(covered).toBeGreaterThan(wantedPx / 2);
      expect(covered).toBeLessThan(wantedPx * 1.7);
      expectWellPlaced(sample, columns, rows);
    },
  );

  it("are one with all of a small picture", () => {
    expect(sampledTiles({ columns: 200, rows: 150 }, reach, { sidePx: 512, wantedPx: 1e6 })).toEqual(
      allTiles({ columns: 200, rows: 150 }, reach),
    );
  });
});
