import { describe, expect, it } from "vitest";
import { barScale } from "../../../src/6-report/pages/bar-scale.js";

/** Heights in hundredths, and the values that are cut. By hand: 15 % of room where something is cut, 85 % for the rest. */
const seen = (values: readonly number[]) => {
  const { shareOf, isFar } = barScale(values);
  return { heights: values.map((value) => Math.round(100 * shareOf(value))), cut: values.filter(isFar) };
};

describe("an axis for bars", () => {
  it.each<[string, number[], number[], number[]]>([
    ["shows all where all are alike", [1, 2, 2.5], [40, 80, 100], []],
    ["keeps a value of three times the usual one", [1, 1, 1, 3], [33, 33, 33, 100], []],
    ["cuts a value beyond", [1, 1, 1, 3.1], [85, 85, 85, 100], [3.1]],
    [
      "cuts several far ones of many",
      [1, 1, 1, 1, 1, 1, 2, 17, 9],
      [43, 43, 43, 43, 43, 43, 85, 100, 100],
      [17, 9],
    ],
    ["cuts nothing where a third is far off: it is a group", [1, 1, 9, 9], [11, 11, 100, 100], []],
    ["cuts neither of two", [0.3, 17], [2, 100], []],
    ["cuts nothing where most are zero", [0, 0, 0, 5], [0, 0, 0, 100], []],
    ["stands bars on zero", [-1, 1, 1], [0, 100, 100], []],
    // 2 units of axis with 85 % of the height; below them 15 % of room.
    ["cuts below zero as above", [-1, 1, 1, 1, -10], [15, 100, 100, 100, 0], [-10]],
    ["has no height for zeros alone", [0, 0], [0, 0], []],
  ])("%s: %j", (_, values, heights, cut) => {
    expect(seen(values)).toEqual({ heights, cut });
  });

  it("has its zero between negative and positive bars", () => {
    expect(barScale([-1, 3, 3, 3]).shareOf(0)).toBeCloseTo(0.25, 12);
    expect(barScale([]).shareOf(0)).toBe(0);
  });
});
