import { describe, expect, it } from "vitest";
import { grownWithin } from "../../../src/core/pixel-rectangle.js";
import { areaOf, putArea } from "../../../src/pipeline/search/piece-planes.js";
import { CORE_PX } from "../../../src/pipeline/search/tile-work.js";
import { tilesOf } from "../../../src/pipeline/search/tiles.js";

const reach = { along: 4, across: 3 };

describe.each([
  { columns: 100, rows: 90, closed: false },
  { columns: 384, rows: 385, closed: false },
  { columns: 1000, rows: 700, closed: false },
  { columns: 800, rows: 500, closed: true },
])("the tiles of a pass over %o", (grid) => {
  it.each([0, 1, 2, 5])("cover every pixel once, in pass %i", (pass) => {
    const counts = new Uint8Array(grid.columns * grid.rows);
    for (const { core } of tilesOf(pass, grid, reach)) {
      expect(Math.max(core.columns, core.rows)).toBeLessThanOrEqual(CORE_PX);
      const before = areaOf(grid, counts, core);
      putArea(
        grid,
        counts,
        core,
        before.map((count) => count + 1),
      );
    }
    expect(counts.every((count) => count === 1)).toBe(true);
  });

  it("leave still what lies beside another tile, and move its place from pass to pass", () => {
    const still = [0, 1, 2].map((pass) => {
      const plane = new Uint8Array(grid.columns * grid.rows);
      for (const { core, still: side } of tilesOf(pass, grid, reach)) {
        const inner = {
          left: core.left + side.left,
          top: core.top + side.top,
          columns: core.columns - side.left - side.right,
          rows: core.rows - side.top - side.bottom,
        };
        putArea(grid, plane, inner, new Uint8Array(inner.columns * inner.rows).fill(1));
      }
      return plane;
    });
    for (let at = 0; at < still[0].length; at++) {
      if (still[0][at] + still[1][at] + still[2][at] === 0) throw new Error(`Pixel ${at} never moves.`);
    }
  });
});

it("a part of a closed piece goes on beyond the seam, and of a flat one there is nothing", () => {
  const plane = Uint8Array.of(1, 2, 3, 4, 5, 6);
  const around = { left: -1, top: 0, columns: 5, rows: 2 };
  expect([...areaOf({ columns: 3, rows: 2, closed: true }, plane, around)]).toEqual([
    ...[3, 1, 2, 3, 1],
    ...[6, 4, 5, 6, 4],
  ]);
  expect([...areaOf({ columns: 3, rows: 2, closed: false }, plane, around)]).toEqual([
    ...[0, 1, 2, 3, 0],
    ...[0, 4, 5, 6, 0],
  ]);
  expect(
    grownWithin({ columns: 3, rows: 2, closed: false }, { left: 1, top: 1, columns: 1, rows: 1 }, 5, 5),
  ).toEqual({
    left: 0,
    top: 0,
    columns: 3,
    rows: 2,
  });
});
