import { describe, expect, it } from "vitest";
import { EDGE_RANKS, edgeRank, rankShare } from "../../src/core/edge-order.js";

/** Steps from one pixel to the next along edges whose pixels lie in few rows. */
const DIRECTIONS = [
  [1, 0],
  [0, 1],
  [1, 1],
  [1, -1],
  [2, 1],
  [1, 2],
  [2, -1],
  [-1, 2],
] as const;

describe("order of pixels along an edge", () => {
  it.each([true, false])(
    "holds every level once in seven pixels of any row, column and diagonal, upright %s",
    (upright) => {
      for (const [stepX, stepY] of DIRECTIONS) {
        // A slope of 1 to 2 matters only for edges of the same orientation.
        if (Math.abs(stepX) !== Math.abs(stepY) && stepX * stepY !== 0) {
          if (upright !== Math.abs(stepY) > Math.abs(stepX)) continue;
        }
        const levels = Array.from({ length: EDGE_RANKS }, (_, k) =>
          edgeRank(20 + k * stepX, 20 + k * stepY, upright),
        );
        expect(levels.sort(), `${stepX}, ${stepY}`).toEqual([0, 1, 2, 3, 4, 5, 6]);
      }
    },
  );

  it("lets up to three of seven that burn stand apart along the edge, and up to three that do not", () => {
    for (let k = 0; k < EDGE_RANKS; k++) {
      const lying = [edgeRank(k, 0, false), edgeRank(k + 1, 0, false)];
      const upright = [edgeRank(0, k, true), edgeRank(0, k + 1, true)];
      for (const pair of [lying, upright]) {
        expect(Math.max(...pair)).toBeGreaterThanOrEqual(3);
        expect(Math.min(...pair)).toBeLessThan(4);
      }
    }
  });

  it("is needed along the axes and at 45°, half at slopes of 1 to 2, and not at 30°", () => {
    const at = (degrees: number) =>
      rankShare(Math.cos((degrees * Math.PI) / 180) ** 2, Math.sin((degrees * Math.PI) / 180) ** 2);
    for (const degrees of [0, 90, 45]) expect(at(degrees)).toBeCloseTo(1, 9);
    expect(rankShare(4, 1)).toBeCloseTo(0.5, 9);
    expect(rankShare(1, 4)).toBeCloseTo(0.5, 9);
    for (const degrees of [15, 30, 35, 60]) expect(at(degrees)).toBe(0);
  });
});
