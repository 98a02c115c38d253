import { describe, expect, it } from "vitest";
import type { LearntFigure } from "../../../src/6-report/calibration.js";
import { calibrationWarnings } from "../../../src/6-report/words/calibration-words.js";
import { cardLine, cardRows, spreadWords } from "../../../src/6-report/words/spread-words.js";
import { libraryReader } from "../../../src/core/reader.js";
import { madeFigures } from "./made-calibration.js";

const known = (value: number, off = 0.1 * value): LearntFigure => ({
  ...{ value, low: value - off, high: value + off },
  learnt: true,
});

const figures = madeFigures({
  cards: [
    { code: "ONE", files: ["a.jpg", "b.jpg"], doseFactor: 1, isDoseKnown: true },
    {
      ...{ code: "TWO", files: ["c.jpg"], doseFactor: 1.5, isDoseKnown: true },
      ...{ dose: known(0.97), spot: known(1.02) },
    },
  ],
  response: [
    { dose: 0, luminance: 0.6, low: 0.6, high: 0.6 },
    { dose: 1.35, luminance: 0.1, low: 0.1, high: 0.1 },
    { dose: 1.5, luminance: 0.1, low: 0.1, high: 0.1 },
  ],
  spread: {
    ...{ common: { ...known(0.08), learnt: false }, local: known(0.04), localLengthMm: known(2.3) },
    ...{ line: known(0.035), spot: known(0.05), drift: 0.02 },
  },
});
const codesOf = (change: Partial<typeof figures>) =>
  calibrationWarnings({ ...figures, ...change }, "maple", libraryReader).map(({ code }) => code);

describe("the variation of a machine in words", () => {
  it("is in percent with its band, or says that it is not told", () => {
    const words = Object.fromEntries(spreadWords(figures.spread));
    expect(words["Dose, from place to place"]).toBe("4.0 % (3.6 to 4.4)");
    expect(words["Width of blotches"]).toBe("2.3 mm (2.1 to 2.5)");
    expect(words["Dose, from piece to piece"]).toMatch(/^not told .* 8\.0 % as before$/);
  });

  it("names every card with its pictures, its meant dose, and how it came out beside the first", () => {
    const [first, second] = cardRows(figures);
    expect(first).toEqual(["ONE", "a.jpg, b.jpg", "1.00", "1", "1"]);
    expect(cardLine(second)).toMatch(
      /^TWO from c\.jpg; meant dose 1\.50; .*0\.970 \(0\.873 to 1\.067\).*1\.020/,
    );
    const [unknown] = cardRows({ cards: [{ ...figures.cards[0], isDoseKnown: false }] });
    expect(unknown[2]).toBe("not known");
  });
});

describe("warnings about cards", () => {
  const withDose = (dose: number, isDoseKnown = true) => ({
    cards: [figures.cards[0], { ...figures.cards[1], isDoseKnown, dose: known(dose) }],
  });

  it("tell of a card whose dose is off by more than machines vary, up or down: three times √2 · 8 % in logarithms", () => {
    expect(codesOf({})).not.toContain("card-off");
    expect(codesOf(withDose(Math.exp(0.33)))).not.toContain("card-off");
    expect(codesOf(withDose(Math.exp(0.35)))).toContain("card-off");
    expect(codesOf(withDose(Math.exp(-0.35)))).toContain("card-off");
    expect(codesOf(withDose(2, false))).not.toContain("card-off");
  });

  it("tell of a drift that is worth a word", () => {
    expect(codesOf({})).not.toContain("dose-drifts");
    expect(codesOf({ spread: { ...figures.spread, drift: 0.12 } })).toContain("dose-drifts");
  });

  it("look for the end of the curve at the largest dose of all cards", () => {
    expect(codesOf({})).not.toContain("not-saturated");
    const steep = figures.response.map((row, k) => (k === 1 ? { ...row, luminance: 0.2 } : row));
    expect(codesOf({ response: steep })).toContain("not-saturated");
  });
});
