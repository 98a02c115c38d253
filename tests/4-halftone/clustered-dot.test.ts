import { describe, expect, it } from "vitest";
import { clusteredScreen } from "../../src/4-halftone/clustered-dot.js";
import { seededRandom } from "../../src/core/random.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { publishedTable } from "../support/halftone-tables.js";
import { ranksFromTints } from "../support/tile-ranks.js";

const PITCH_MM = 0.1;

interface Screen {
  readonly a: number;
  readonly b: number;
  readonly angle_deg: number;
  readonly cell_area_px: number;
  readonly levels: number;
  readonly period_px: number;
  readonly square_tile_px: number;
}

const published = publishedTable<{ screens: readonly Screen[] }>(
  "clustered-dot/rational-tangent-screens",
).screens;

const screenOf = (periodPx: number, angleDeg: number) =>
  clusteredScreen(
    halftoneSettings({ screenLinesPerInch: 25.4 / (periodPx * PITCH_MM), screenAngleDeg: angleDeg }),
  );

/** Whether moving the plane by (dx, dy) lays every rank on an equal one. */
function repeats(ranks: ArrayLike<number>, columns: number, rows: number, dx: number, dy: number): boolean {
  for (let y = Math.max(0, -dy); y < rows - Math.max(0, dy); y++) {
    for (let x = Math.max(0, -dx); x < columns - Math.max(0, dx); x++) {
      if (ranks[y * columns + x] !== ranks[(y + dy) * columns + x + dx]) return false;
    }
  }
  return true;
}

const isPermutation = (ranks: ArrayLike<number>) =>
  new Set(Array.from(ranks)).size === ranks.length && Math.max(...Array.from(ranks)) === ranks.length - 1;

describe.each(published.map((screen) => [`${screen.a}, ${screen.b}`, screen] as const))(
  "published screen with steps %s",
  (_name, { a, b, angle_deg, cell_area_px, levels, period_px, square_tile_px }) => {
    const { cell: tile, linesPerInch, angleDeg } = screenOf(period_px, angle_deg);
    const side = Math.max(square_tile_px, 2 * (a + b));
    const ranks = ranksFromTints(tile, side, side);

    it("has the area, tones, angle and period of the table", () => {
      expect(tile.rankCount).toBe(cell_area_px);
      expect(tile.rankCount + 1).toBe(levels);
      expect(angleDeg).toBeCloseTo(angle_deg, 1);
      expect(25.4 / linesPerInch / PITCH_MM).toBeCloseTo(period_px, 3);
    });

    it("keeps each pixel of one cell, each with its own rank", () => {
      expect(tile.columns * tile.rows).toBe(cell_area_px);
      expect(tile.ranks).toHaveLength(cell_area_px);
      expect(isPermutation(tile.ranks)).toBe(true);
    });

    it("repeats along both sides of the cell, over the square tile, and nowhere nearer", () => {
      expect(repeats(ranks, side, side, a, b)).toBe(true);
      expect(repeats(ranks, side, side, -b, a)).toBe(true);
      if (square_tile_px < side) expect(repeats(ranks, side, side, square_tile_px, 0)).toBe(true);
      for (let dx = 1; dx * dx + b * b < cell_area_px; dx++) {
        if (dx !== a) expect(repeats(ranks, side, side, dx, b)).toBe(false);
      }
    });

    it("grows its dot in the order of the cosine spot function", () => {
      const byRank: number[] = [];
      for (let y = 0; y < side; y++) {
        for (let x = 0; x < side; x++) {
          const u = ((x + 0.5) * a + (y + 0.5) * b) / cell_area_px;
          const v = ((y + 0.5) * a - (x + 0.5) * b) / cell_area_px;
          byRank[ranks[y * side + x]] = Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v);
        }
      }
      expect(byRank).toHaveLength(cell_area_px);
      byRank.forEach((spot, rank) => {
        if (rank > 0) expect(spot).toBeLessThanOrEqual(byRank[rank - 1] + 1e-8);
      });
    });
  },
);

describe("a ruling that asks for any angle, on pixels of unequal pitch", () => {
  it("rounds each side of the cell to whole pixels of its own pitch", () => {
    // 40 lines per inch at 45°: 0.635 mm, 0.449 mm each way; that is 4.49 pixels along and 8.98 across.
    const {
      cell: tile,
      linesPerInch,
      angleDeg,
    } = clusteredScreen(
      halftoneSettings({ pitch: { alongMm: 0.1, acrossMm: 0.05 }, screenLinesPerInch: 40 }),
    );
    expect(tile.rankCount).toBe(4 * 9 + 9 * 4);
    expect(linesPerInch).toBeCloseTo(25.4 / Math.sqrt(0.8 * 0.45), 10);
    expect(angleDeg).toBeCloseTo((Math.atan2(0.45, 0.4) * 180) / Math.PI, 10);
    const ranks = ranksFromTints(tile, 40, 40);
    expect(repeats(ranks, 40, 40, 4, 9)).toBe(true);
    expect(repeats(ranks, 40, 40, -4, 9)).toBe(true);
  });

  it("repeats within half a pixel of what was asked, at 200 random rulings and angles", () => {
    const random = seededRandom(5);
    for (let trial = 0; trial < 200; trial++) {
      const pitch = { alongMm: 0.05 + 0.1 * random(), acrossMm: 0.05 + 0.1 * random() };
      const periodMm = (2.5 + 6 * random()) * Math.max(pitch.alongMm, pitch.acrossMm);
      const angle = 2 * Math.PI * random();
      const { cell: tile } = clusteredScreen(
        halftoneSettings({
          pitch,
          screenLinesPerInch: 25.4 / periodMm,
          screenAngleDeg: (angle * 180) / Math.PI,
        }),
      );
      expect(isPermutation(tile.ranks)).toBe(true);
      expect(tile.columns * tile.rows).toBe(tile.rankCount);
      const side = 60;
      const ranks = ranksFromTints(tile, side, side);
      for (const direction of [angle, angle + Math.PI / 2]) {
        const dx = Math.round((periodMm * Math.cos(direction)) / pitch.alongMm);
        const dy = Math.round((periodMm * Math.sin(direction)) / pitch.acrossMm);
        expect(repeats(ranks, side, side, dx, dy)).toBe(true);
      }
    }
  });
});

describe("a supercell", () => {
  it.each([
    [2, 2],
    [5, 0],
    [4, 3],
    [7, 2],
  ])(
    "of cells with steps %i, %i has each rank once, and takes a whole turn of cells before the next pixel",
    (a, b) => {
      const { cell, tile } = screenOf(Math.hypot(a, b), (Math.atan2(b, a) * 180) / Math.PI);
      const cells = tile.rankCount / cell.rankCount;
      expect(tile.rankCount + 1).toBeGreaterThanOrEqual(256);
      expect(isPermutation(tile.ranks)).toBe(true);
      const side = 64;
      const ofCell = ranksFromTints(cell, side, side);
      const ofTile = ranksFromTints(tile, side, side);
      expect(ofTile.map((rank) => Math.floor(rank / cells))).toEqual(ofCell);
    },
  );
});

describe("the ends of the range of rulings", () => {
  it("a ruling finer than the pixels is a plain threshold", () => {
    const { cell: tile, linesPerInch } = clusteredScreen(halftoneSettings({ screenLinesPerInch: 500 }));
    expect([...tile.ranks]).toEqual([0]);
    expect(linesPerInch).toBeCloseTo(254, 10);
  });

  it("a cell of more than 65536 pixels keeps each rank apart", () => {
    const { cell: tile } = clusteredScreen(
      halftoneSettings({
        pitch: { alongMm: 0.01, acrossMm: 0.01 },
        screenLinesPerInch: 8,
        screenAngleDeg: 0,
      }),
    );
    expect(tile.rankCount).toBe(318 ** 2);
    expect(new Set(tile.ranks).size).toBe(318 ** 2);
  });
});
