import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CardSpec, codeText, specOfCode } from "../../src/7-card/card-spec.js";
import { cardLayout } from "../../src/7-card/layout.js";
import { cardRecipe, cardRecipeSchema, recipeText } from "../../src/7-card/recipe.js";

const usual: CardSpec = {
  ...{ widthMm: 80, heightMm: 60, linesPerInch: 1016, linesPerInchAlong: 1016 },
  ...{ levels: 2, seed: 1, oneWay: false },
};

const specs: fc.Arbitrary<CardSpec> = fc.record(
  {
    widthMm: fc.double({ min: 20, max: 300, noNaN: true }),
    heightMm: fc.double({ min: 20, max: 300, noNaN: true }),
    linesPerInch: fc.double({ min: 20, max: 5080, noNaN: true }),
    linesPerInchAlong: fc.double({ min: 20, max: 5080, noNaN: true }),
    levels: fc.integer({ min: 2, max: 256 }),
    seed: fc.integer({ min: 0, max: 9999 }),
    oneWay: fc.boolean(),
    speedMmPerS: fc.double({ min: 0.01, max: 20000, noNaN: true }),
    doseFactor: fc.double({ min: 0.1, max: 10, noNaN: true }),
  },
  { requiredKeys: ["widthMm", "heightMm", "linesPerInch", "linesPerInchAlong", "levels", "seed", "oneWay"] },
);

describe("the text of the code", () => {
  it.each([
    [usual, "SPOTPITCH1 W80 H60 D1016 L2 S1"],
    [{ ...usual, speedMmPerS: 300 }, "SPOTPITCH1 W80 H60 D1016 L2 S1 V300"],
    [{ ...usual, speedMmPerS: 300, doseFactor: 1.5 }, "SPOTPITCH1 W80 H60 D1016 L2 S1 V300 X1.5"],
    [{ ...usual, doseFactor: 0.75, oneWay: true }, "SPOTPITCH1 W80 H60 D1016 L2 S1 X0.75 O"],
    [
      { ...usual, widthMm: 50.8, linesPerInchAlong: 25.4 / 0.07, levels: 16, seed: 42, oneWay: true },
      "SPOTPITCH1 W50.8 H60 D1016 A362.8571 L16 S42 O",
    ],
  ])("of %o", (spec, text) => {
    expect(codeText(spec)).toBe(text);
  });

  it("has only characters that a code stores as capitals and digits (ISO/IEC 18004, table 5)", () => {
    fc.assert(
      fc.property(specs, (spec) => /^[0-9A-Z $%*+\-./:]+$/.test(codeText(spec))),
      { numRuns: 300 },
    );
  });

  it("says again what was read from it", () => {
    fc.assert(
      fc.property(specs, (spec) => {
        const read = specOfCode(codeText(spec));
        return read !== undefined && codeText(read) === codeText(spec);
      }),
      { numRuns: 300 },
    );
  });

  it("keeps its figures to a hundredth of a mm and a ten-thousandth of a line per inch", () => {
    fc.assert(
      fc.property(specs, (spec) => {
        const read = specOfCode(codeText(spec)) ?? usual;
        expect(Math.abs(read.widthMm - spec.widthMm)).toBeLessThanOrEqual(0.00501);
        expect(Math.abs(read.heightMm - spec.heightMm)).toBeLessThanOrEqual(0.00501);
        expect(Math.abs(read.linesPerInch - spec.linesPerInch)).toBeLessThanOrEqual(0.0000501);
        expect(Math.abs(read.linesPerInchAlong - spec.linesPerInchAlong)).toBeLessThanOrEqual(0.0001002);
        expect([read.levels, read.seed, read.oneWay]).toEqual([spec.levels, spec.seed, spec.oneWay]);
        expect(read.speedMmPerS === undefined).toBe(spec.speedMmPerS === undefined);
      }),
      { numRuns: 200 },
    );
  });

  it.each([
    "",
    "SPOTPITCH2 W80 H60 D1016 L2 S1",
    "SPOTPITCH1 W80 H60 D1016 L2",
    "SPOTPITCH1 W-80 H60 D1016 L2 S1",
    "SPOTPITCH1 W80 H60 D1016 L2 S1 X",
    " SPOTPITCH1 W80 H60 D1016 L2 S1",
  ])("is not read from %j", (text) => {
    expect(specOfCode(text)).toBeUndefined();
  });
});

describe("the recipe", () => {
  const layout = cardLayout({ ...usual, levels: 16, linesPerInch: 900, linesPerInchAlong: 700 });
  const recipe = cardRecipe(layout);

  it("follows from its own code alone", () => {
    const again = specOfCode(recipe.code);
    expect(again && cardRecipe(cardLayout(again))).toEqual(recipe);
  });

  it("is read from its file as it was written, to a nanometre", () => {
    const read = cardRecipeSchema.parse(JSON.parse(recipeText(recipe)));
    expect({ ...read, patches: [], patterns: {} }).toEqual(near({ ...recipe, patches: [], patterns: {} }));
    expect(read.patches).toEqual(near(recipe.patches));
    expect(read.patterns).toEqual(near(recipe.patterns));
  });

  it.each([
    ["another version", { version: 2 }],
    ["no code", { code: undefined }],
    ["a patch outside upwards", { patches: [{ ...recipe.patches[0], topMm: -1 }] }],
    ["an unknown field", { colour: "red" }],
    ["three corners", { corners: recipe.corners.slice(1) }],
  ])("with %s is refused", (_, change) => {
    expect(cardRecipeSchema.safeParse({ ...recipe, ...change }).success).toBe(false);
    expect(cardRecipeSchema.safeParse(recipe).success).toBe(true);
  });

  it("names the pattern of every patch, and every pattern has patches", () => {
    const used = new Set(recipe.patches.map(({ pattern }) => pattern));
    expect([...used].sort()).toEqual(Object.keys(recipe.patterns).sort());
  });
});

/** Numbers within half a nanometre. */
function near(value: unknown): unknown {
  if (typeof value === "number") return expect.closeTo(value, 6);
  if (Array.isArray(value)) return value.map(near);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, near(each)]));
}
