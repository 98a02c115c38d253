import { describe, expect, it } from "vitest";
import { specOfCode } from "../../src/7-card/card-spec.js";
import {
  type CardPictures,
  calibrationPatches,
  cardsOf,
  isDoseKnown,
  measuredCards,
} from "../../src/pipeline/calibration/card-pictures.js";
import { type CardReading, recipeOfCode } from "../../src/pipeline/calibration/card-reading.js";

const CODE = "SPOTPITCH1 W40 H30 D762 L2 S1 V300";
const SEQUEL = "SPOTPITCH1 W40 H30 D762 L2 S2 V300 X1.5";
const COARSER = "SPOTPITCH1 W40 H30 D600 L2 S1 V300";

const specOf = (code: string) => {
  const spec = specOfCode(code);
  if (!spec) throw new Error(`no code: ${code}`);
  return spec;
};

/** A picture in which every patch has this share of the bare surface's luminance. */
function read(code: string, file: string, share: number): CardReading {
  const recipe = recipeOfCode(code);
  return {
    ...{ file, recipe, spec: specOf(code), pxPerMm: 20, evenness: 0.01, solidOverBare: 0.2 },
    picture: { columns: 1, rows: 1, light: new Float32Array(1) },
    view: { homography: [1, 0, 0, 0, 1, 0, 0, 0, 1], radial: 0, middle: [0, 0], halfDiagonalPx: 1 },
    overBare: new Float64Array(recipe.patches.length).fill(share),
    usable: new Uint8Array(recipe.patches.length).fill(1),
    ...{ measured: [], lnExposure: undefined, bareLight: () => 0.5 },
  };
}

const readings = [
  read(CODE, "a.jpg", 0.4),
  read(SEQUEL, "b.jpg", 0.3),
  read(CODE, "c.jpg", 0.1),
  read(COARSER, "d.jpg", 0.3),
];
const cards: CardPictures[] = cardsOf(readings, 0.5, 100);

describe("pictures of several cards", () => {
  it("are of one card if their codes are equal: then their light is averaged, as exposures multiply", () => {
    expect(cards.map((each) => each.readings.map(({ file }) => file))).toEqual([
      ["a.jpg", "c.jpg"],
      ["b.jpg"],
      ["d.jpg"],
    ]);
    // √(0.4 · 0.1) of 0.5.
    expect(cards[0].luminance[7]).toBeCloseTo(0.1, 9);
    expect(cards[1].luminance[7]).toBeCloseTo(0.15, 9);
  });

  it("leave out patches that something lies on, and keep the others in step", () => {
    const spoilt = read(CODE, "f.jpg", 0.4);
    const first = spoilt.recipe.patches.findIndex(({ pattern }) => pattern === "checks-1");
    spoilt.usable[first] = 0;
    const [card] = cardsOf([spoilt], 0.5, 100);
    const shown = spoilt.recipe.patches.filter(({ pattern }) => pattern === "checks-1");
    const [{ patterns }] = measuredCards([card]);
    expect(patterns.find(({ id }) => id === "checks-1")?.places).toHaveLength(shown.length - 1);
    const of = spoilt.recipe.patches.flatMap(({ pattern }, k) =>
      pattern === "checks-1" ? [card.places[k]] : [],
    );
    expect(of).toEqual([-1, ...shown.slice(1).map((_, k) => k)]);
    // A second picture that shows it makes it good.
    expect(cardsOf([spoilt, read(CODE, "g.jpg", 0.1)], 0.5, 100)[0].places[first]).toBe(0);
    expect(cardsOf([spoilt, read(CODE, "g.jpg", 0.1)], 0.5, 100)[0].luminance[first]).toBeCloseTo(0.05, 9);
  });

  it("give each card its own speed, density and dose", () => {
    const measured = measuredCards(cards);
    expect(measured.map(({ speedMmPerS }) => speedMmPerS)).toEqual([300, 300, 300]);
    expect(measured[2].pitch.acrossMm).toBeCloseTo(25.4 / 600, 6);
    expect(measured.map(({ patterns }) => patterns[0].doseFactor)).toEqual([1, 1.5, 1]);
    expect(measured.map((each) => each.isDoseKnown)).toEqual([true, true, false]);
    const [slow] = cardsOf([read(CODE.replace(" V300", ""), "e.jpg", 0.4)], 0.5, 100);
    expect(slow.speedMmPerS).toBe(100);
  });

  it("know the dose of a card at another density or speed only if its code says it", () => {
    const first = specOf(CODE);
    for (const [code, known] of [
      [CODE.replace("S1", "S7"), true],
      [CODE.replace(" V300", ""), true],
      [CODE.replace("V300", "V450"), false],
      [CODE.replace("V300", "V450 X0.8"), true],
      [COARSER, false],
    ] as const) {
      expect(isDoseKnown(specOf(code), first)).toBe(known);
    }
  });

  it("name the patches of further cards after their card", () => {
    const learnt = { patterns: [{ id: "2:solid", measured: 0.15, fitted: 0.14, slope: -0.1, spoilt: [] }] };
    const patches = calibrationPatches(cards, learnt);
    const [{ recipe }] = cards;
    expect(patches[0].id).toBe(recipe.patches[0].id);
    expect(patches[recipe.patches.length].id).toBe(`2:${cards[1].recipe.patches[0].id}`);
    expect(new Set(patches.map(({ id }) => id)).size).toBe(patches.length);
    const solid = patches.filter(({ pattern, fitted }) => pattern === "solid" && fitted === 0.14);
    expect(solid.every(({ id }) => id.startsWith("2:"))).toBe(true);
    expect(solid.length).toBeGreaterThan(2);
  });
});
