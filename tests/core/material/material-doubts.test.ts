import { describe, expect, it } from "vitest";
import { sayMatter } from "../../../src/6-report/words/matter.js";
import { materialDoubtful } from "../../../src/6-report/words/shared-matters.js";
import { findMaterial, type MaterialData, resolveMaterial } from "../../../src/core/material/material.js";
import { materialPresets } from "../../../src/core/material/material-presets.js";
import { luminanceFactorAt } from "../../../src/core/material/response.js";
import { libraryReader } from "../../../src/core/reader.js";
import { board } from "../../support/materials.js";
import { fillLuminance, lightness } from "./rippled-fills.js";

const doubts = (changes: Partial<MaterialData>) => resolveMaterial({ ...board, ...changes }).doubts;
const rising: MaterialData["response"] = [
  [0, 0.1],
  [1, 0.6],
];

describe("what is doubtful about a material", () => {
  it("is nothing where table and colours agree", () => {
    expect(doubts({})).toEqual([]);
    expect(doubts({ response: rising, bareColor: "#3a2415", markedColor: "#e3c9a0" })).toEqual([]);
    for (const { id } of materialPresets) expect(findMaterial(id).doubts, id).toEqual([]);
  });

  it.each<[string, Partial<MaterialData>, object, RegExp]>([
    [
      "dark to light in the table, light to dark in colour",
      { response: rising },
      { doubt: "colours-contradict", marksGrow: "lighter" },
      /grow lighter.*markedColor is darker/,
    ],
    [
      "light to dark in the table, dark to light in colour",
      { bareColor: "#3a2415", markedColor: "#e3c9a0" },
      { doubt: "colours-contradict", marksGrow: "darker" },
      /grow darker.*markedColor is lighter/,
    ],
    [
      "no bare surface",
      {
        response: [
          [0.1, 0.6],
          [1, 0.1],
        ],
      },
      { doubt: "no-bare-dose", firstDose: 0.1 },
      /no dose 0.*as after dose 0\.1/,
    ],
    [
      "no solid fill",
      {
        response: [
          [0, 0.6],
          [0.8, 0.1],
        ],
      },
      { doubt: "no-solid-dose", lastDose: 0.8 },
      /ends before dose 1.*as after dose 0\.8/,
    ],
  ])("%s", (_, changes, doubt, words) => {
    const told = doubts(changes);
    expect(told).toEqual([{ material: "net float", ...doubt }]);
    const said = sayMatter(materialDoubtful, told[0], libraryReader);
    expect(said).toMatch(words);
    expect(said).toContain("net float");
  });

  it("is not a table that goes past a solid fill, nor two equal colours", () => {
    expect(
      doubts({
        response: [
          [0, 0.6],
          [0.5, 0.3],
          [1.5, 0.1],
        ],
      }),
    ).toEqual([]);
    expect(doubts({ markedColor: "#e3c9a0" })).toEqual([]);
  });

  it("is the ripple of measured fills whose spot is not named, if it shifts their tone by more than 1 L*", () => {
    const [doubt, ...more] = doubts({ referencePitchMm: 0.1 });
    expect(more).toEqual([]);
    if (doubt?.doubt !== "fills-may-ripple") throw new Error(`doubted for ${doubt?.doubt}`);
    // By brute force, with a 0.1 mm spot: how the tone of a fill at that dose differs from the table's.
    const { curve } = resolveMaterial(board);
    const tone = (dose: number) => luminanceFactorAt(curve, dose);
    const rippled = lightness(fillLuminance(tone, doubt.dose, 0.1, 0.1));
    expect(Math.abs(rippled - lightness(tone(doubt.dose)))).toBeCloseTo(doubt.lightness, 3);
    expect(doubt.lightness).toBeGreaterThan(1);
    const said = sayMatter(materialDoubtful, doubt, libraryReader);
    expect(said).toMatch(
      /net float.*pitch of 0\.1 mm.*spot of 0\.1 mm, for example.*referenceSpotMm.*four lines to a spot/s,
    );
  });

  it("is fills of lines that do not add, whose spot is not named: their dose is lower than it says", () => {
    // Four lines to a spot, which are even if they add.
    expect(doubts({ referencePitchMm: 0.025 })).toEqual([]);
    expect(doubts({ referencePitchMm: 0.025, lineExponent: 2 })[0]).toMatchObject({
      doubt: "fills-may-ripple",
    });
  });

  it("is no ripple for fills that are fine enough, name their spot, or were not measured", () => {
    expect(doubts({ referencePitchMm: 0.025 })).toEqual([]);
    expect(doubts({ referencePitchMm: 0.025, referenceSpotMm: 0.1 })).toEqual([]);
    expect(doubts({ referencePitchMm: 0.1, source: "illustrative" })).toEqual([]);
    expect(doubts({ referencePitchMm: 10 })[0]).toMatchObject({ doubt: "fills-may-ripple" });
    expect(doubts({ referencePitchMm: 1e-9 })).toEqual([]);
  });

  it("is a spot of the fills without their pitch", () => {
    expect(doubts({ referenceSpotMm: 0.1 })).toEqual([
      { material: "net float", doubt: "fills-without-pitch" },
    ]);
  });

  it("takes #808080 for lighter than pure blue: it goes by luminance, not by the largest channel", () => {
    // BT.709: blue has 7 % of the light of white, #808080 has 22 %.
    expect(doubts({ bareColor: "#0000ff", markedColor: "#808080", response: rising })).toEqual([]);
    expect(doubts({ bareColor: "#0000ff", markedColor: "#808080" })).toHaveLength(1);
  });
});
