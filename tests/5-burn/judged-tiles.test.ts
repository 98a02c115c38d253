import { describe, expect, it } from "vitest";
import {
  allTiles,
  errorMargin,
  fewerTiles,
  HALO_PX,
  type JudgedTiles,
  sampledTiles,
} from "../../src/5-burn/judged-tiles.js";
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

  it("are those of all of a small picture", () => {
    const { tiles, share } = sampledTiles({ columns: 200, rows: 150 }, reach, { sidePx: 512, wantedPx: 1e6 });
    expect(tiles).toEqual(allTiles({ columns: 200, rows: 150 }, reach).tiles);
    expect(share).toBe(1);
  });

  it("cut their cores into the middle of the picture and its edges, each pixel once", () => {
    const [columns, rows, margin] = [3000, 2000, { alongPx: 20, acrossPx: 30 }];
    const edge = { alongPx: 50, acrossPx: 70 };
    const size = { sidePx: 512, wantedPx: 1e6, edge };
    const { tiles, strata } = sampledTiles({ columns, rows, margin }, reach, size);
    const judged = [0, 0];
    for (const { core, parts } of tiles) {
      const times = new Uint8Array(core.columns * core.rows);
      for (const part of parts) {
        for (let y = part.top; y < part.top + part.rows; y++) {
          for (let x = part.left; x < part.left + part.columns; x++) {
            times[y * core.columns + x]++;
            judged[part.stratum]++;
            const [left, top] = [core.left + x - margin.alongPx, core.top + y - margin.acrossPx];
            const [fromRight, fromBottom] = [columns - 40 - 1 - left, rows - 60 - 1 - top];
            const inMiddle = Math.min(left, fromRight) >= 50 && Math.min(top, fromBottom) >= 70;
            if ((part.stratum === 0) !== inMiddle) throw new Error(`${left}, ${top} is in ${part.stratum}`);
          }
        }
      }
      expect(bounds(times)).toEqual([1, 1]);
    }
    const [inner, middle] = [2960 * 1940, 2860 * 1800];
    expect(strata[0].area).toBeCloseTo(middle / inner, 12);
    expect(strata[1].area).toBeCloseTo(1 - middle / inner, 12);
    expect(strata[0].judged).toBeCloseTo(judged[0] / middle, 12);
    expect(strata[1].judged).toBeCloseTo(judged[1] / (inner - middle), 12);
  });

  it("may be fewer, which stand for the same strata", () => {
    const size = { sidePx: 512, wantedPx: 1.2e6, edge: { alongPx: 50, acrossPx: 70 } };
    const judged = sampledTiles({ columns: 3000, rows: 2000 }, reach, size);
    const some = fewerTiles(judged, 0.5e6);
    expect(some.tiles.length).toBeLessThan(judged.tiles.length);
    expect(some.tiles.every((tile) => judged.tiles.includes(tile))).toBe(true);
    expect(some.strata.map(({ area }) => area)).toEqual(judged.strata.map(({ area }) => area));
    for (const [wide, high] of [
      [1600, 2400],
      [4000, 1000],
      [2400, 1600],
      [800, 6000],
    ]) {
      const sample = sampledTiles({ columns: wide, rows: high }, reach, size);
      const kept = fewerTiles(sample, 0.5e6).tiles;
      // Each half of a side with two tiles or more keeps one.
      const centres = kept.map(({ core }) => [core.left + core.columns / 2, core.top + core.rows / 2]);
      [wide, high].forEach((length, side) => {
        if (new Set(sample.tiles.map(({ cell }) => cell[side])).size === 1) return;
        const places = centres.map((centre) => centre[side] / length);
        expect(Math.min(...places)).toBeLessThan(0.5);
        expect(Math.max(...places)).toBeGreaterThan(0.5);
      });
    }
    some.strata.forEach((stratum, k) => {
      const px = (tiles: JudgedTiles["tiles"]) =>
        tiles
          .flatMap(({ parts }) => parts)
          .filter((part) => part.stratum === k)
          .reduce((sum, part) => sum + part.columns * part.rows, 0);
      const share = px(some.tiles) / px(judged.tiles);
      expect(stratum.judged).toBeCloseTo(judged.strata[k].judged * share, 12);
    });
  });

  it("leave out a margin of one spot, if that is more than 16 pixels", () => {
    // 0.9 mm over 0.05 mm are 18 pixels.
    expect(errorMargin({ alongMm: 0.9, acrossMm: 0.3 }, { alongMm: 0.05, acrossMm: 0.05 })).toEqual({
      alongPx: 18,
      acrossPx: 16,
    });
  });
});
