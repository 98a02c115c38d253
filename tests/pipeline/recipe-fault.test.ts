import { describe, expect, it } from "vitest";
import { testCard } from "../../src/index.js";
import { recipeFault } from "../../src/pipeline/calibration/recipe-fault.js";

const { recipeFile } = await testCard({ linesPerInch: 508, sizeMm: { widthMm: 40, heightMm: 30 } });
const recipe = JSON.parse(recipeFile);
const [patch, ...others] = recipe.patches;

describe("the recipe of a card", () => {
  it("is taken as it was written", () => {
    expect(recipeFault(recipe)).toBeUndefined();
  });

  it.each<[string, unknown, RegExp]>([
    ["a list", [], /no code/],
    ["nothing", null, /no code/],
    ["a code alone", { code: recipe.code }, /"\w+" is wrong or missing/],
    ["a patch that was moved", { ...recipe, patches: [{ ...patch, leftMm: 9 }, ...others] }, /changed/],
    [
      "a patch with another pattern",
      { ...recipe, patches: [{ ...patch, pattern: "solid" }, ...others] },
      /changed/,
    ],
    ["another seed in the code", { ...recipe, code: recipe.code.replace("S1", "S2") }, /changed/],
    [
      "a code of another version",
      { ...recipe, code: recipe.code.replace("SPOTPITCH1", "SPOTPITCH9") },
      /SPOTPITCH9/,
    ],
    ["a field too many", { ...recipe, colour: "red" }, /no recipe/],
    ["a text for a length", { ...recipe, widthMm: "80" }, /"widthMm"/],
  ])("with %s is not: the fault is named", (_, content, words) => {
    expect(recipeFault(content)).toMatch(words);
  });
});
