import { describe, expect, it } from "vitest";
import { cardDensity } from "../../src/core/card-density.js";

describe("the density of a test card that nobody chose", () => {
  // Four lines to a spot of 0.1 mm are 4 · 25.4 / 0.1 = 1016 lines per inch, and 1000 are 3.94, near enough.
  it.each([
    ["without an offer", [], 1016, "computed"],
    ["with one that is near enough", [254, 508, 1000, 2000], 1000, "smallest-offered"],
    ["with one that is too coarse and one that is finer", [254, 508, 900, 1200], 1200, "smallest-offered"],
    ["in any order", [2000, 1200, 508], 1200, "smallest-offered"],
    ["with coarse ones alone", [254, 508, 600], 600, "largest-offered"],
  ] as const)("%s", (_, offered, linesPerInch, reason) => {
    expect(cardDensity(0.1, offered)).toEqual({ linesPerInch, reason });
  });

  it("has pixels enough for the patterns where the spot is large: 24 in 1.8 mm", () => {
    // 24 · 25.4 / 1.8 mm = 338.7.
    expect(cardDensity(0.8)).toEqual({ linesPerInch: 339, reason: "computed" });
    expect(cardDensity(0.8, [127, 254, 400, 500]).linesPerInch).toBe(400);
  });
});
