import { describe, expect, it } from "vitest";
import { didYouMean, nearestNames } from "../../src/core/nearest-name.js";

const names = ["maple", "maple-wood", "birch-plywood", "cork", "glass", "bayer-2", "bayer-4"];

describe("names near a mistyped one", () => {
  it.each([
    ["mapel", ["maple"]],
    ["MAPLE", ["maple"]],
    ["maplle", ["maple"]],
    ["aple", ["maple"]],
    ["Birch Plywod", ["birch-plywood"]],
    ["bayer-3", ["bayer-2", "bayer-4"]],
    ["bayer", ["bayer-2", "bayer-4"]],
    ["wood", ["maple-wood"]],
    // "plywood" ends in it, but no part begins with it.
    ["oak", []],
    ["ply", ["birch-plywood"]],
    ["granite", []],
    ["", []],
    ["-", []],
    ["x", []],
  ])("%j: %j", (typed, near) => {
    expect(nearestNames(typed, names)).toEqual(near);
  });

  it("are four at most", () => {
    const many = ["net-1", "net-2", "net-3", "net-4", "net-5"];
    expect(nearestNames("net", many)).toEqual(many.slice(0, 4));
    expect(nearestNames("net-9", many)).toEqual(many.slice(0, 4));
  });

  it("stand in a question, or there is none", () => {
    expect(didYouMean("mapel", names)).toBe(" Did you mean maple?");
    expect(didYouMean("bayer", names)).toBe(" Did you mean bayer-2 or bayer-4?");
    expect(didYouMean("net", ["net-1", "net-2", "net-3"])).toBe(" Did you mean net-1, net-2 or net-3?");
    expect(didYouMean("granite", names)).toBe("");
    expect(didYouMean("granite", [])).toBe("");
  });
});
