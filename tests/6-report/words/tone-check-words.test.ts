import { describe, expect, it } from "vitest";
import {
  adviceWords,
  outcomeWords,
  type ToneCheckFigures,
} from "../../../src/6-report/words/tone-check-words.js";
import { libraryReader } from "../../../src/core/reader.js";

/** Thirteen tones and the solid patches, each off by so much in L*; up to 2 is within the band. */
function figures(off: readonly number[], changes: Partial<ToneCheckFigures> = {}): ToneCheckFigures {
  const steps = off.map((difference, k) => ({
    name: k < 13 ? `tone-${k + 1}` : "solid",
    ...{ wanted: 0.3, predicted: 0.3, measured: 0.3, difference, tolerance: 2, error: 0.2 },
    ...{ patches: 9, spoilt: 0 },
    verdict:
      Math.abs(difference) <= 2
        ? ("within" as const)
        : difference < 0
          ? ("too-dark" as const)
          : ("too-light" as const),
  }));
  return {
    tool: { name: "spotpitch", version: "1" },
    ...{
      card: "C",
      material: "mine",
      method: "bayer-8",
      linesPerInch: 254,
      pictures: [],
      camera: "assumed",
      bareLuminance: 0.6,
    },
    ...{ verdict: "within", steps, patches: [] },
    dose: { factor: 1, explains: false, offBefore: 0.2, offAfter: 0.2 },
    ...changes,
  };
}
const tones = (changes: Readonly<Record<number, number>>) =>
  Array.from({ length: 14 }, (_, k) => changes[k + 1] ?? 0.1);
const advice = (changes: Partial<ToneCheckFigures>) =>
  adviceWords(figures(tones({}), changes), libraryReader).join(" ");

describe("the outcome of a check", () => {
  it("names runs of tones by the first and the last, and the solid patches by their name", () => {
    const verdict = "shape";
    expect(
      outcomeWords(figures(tones({ 3: -2.5, 4: -3, 5: -4.1, 8: -2.3, 9: -2.2, 14: -3 }), { verdict })),
    ).toMatch(
      /^Tones 3 to 5, tone 8, tone 9 and the solid patches came out too dark, by 2\.2 to 4\.1 L\*\. No change/,
    );
    expect(outcomeWords(figures(tones({ 1: 3, 7: -3 }), { verdict }))).toMatch(
      /^Tone 7 came out too dark, by 3\.0 L\*, and tone 1 came out too light, by 3\.0 L\*\./,
    );
  });

  it("says how far the farthest tone is off where all is well", () => {
    expect(outcomeWords(figures(tones({ 6: -1.4 })))).toMatch(
      /^All 14 tones came out as predicted, to 1\.4 L\*/,
    );
  });
});

describe("the advice", () => {
  it("is to do nothing, and to look again where all tones lean", () => {
    expect(advice({})).toBe("Nothing. Prepare your jobs with these two files.");
    const dose = { factor: 1.08, explains: true, offBefore: 0.9, offAfter: 0.1 };
    expect(advice({ dose })).toMatch(/^Nothing\. .* about 8 % more dose, too little to see/);
    expect(advice({ dose: { ...dose, factor: 1.04 } })).not.toContain("lean");
  });

  it.each([
    [1.25, /burns more .* set 0\.80 × the power/],
    [0.8, /burns less .* clean the lens .* set 1\.25 × the power/],
  ])("turns a dose of %d into the power to set", (factor, words) => {
    const dose = { factor, explains: true, offBefore: 4, offAfter: 0.2 };
    expect(advice({ verdict: "dose", dose })).toMatch(words);
    expect(advice({ verdict: "dose", dose })).toMatch(/test card and read it: testCard\(\)\.$/);
  });

  it("is to look at the settings, the material and the focus where no dose explains it", () => {
    expect(advice({ verdict: "shape" })).toMatch(
      /dithering of its software off.* files are for mine.*focus.*testCard/,
    );
  });
});
