import { describe, expect, it } from "vitest";
import type { Candidate, Comparison } from "../../../src/6-report/comparison.js";
import type { FactSource } from "../../../src/6-report/pages/facts/fact-group.js";
import { predictionFacts } from "../../../src/6-report/pages/facts/result-facts.js";
import { comparisonCsv } from "../../../src/6-report/words/comparison-columns.js";
import { headOf, tellingFigures } from "../../../src/6-report/words/comparison-words.js";
import { heldIfWords, spreadInWords } from "../../../src/6-report/words/variation-words.js";
import { job, predicted, steady } from "./flawless-piece.js";

const spread = { common: 0.0816, local: 0.03, localLengthMm: 1.5, line: 0.05, spot: 0.06 };

it("a spread is told part by part, each with its own figure", () => {
  expect(spreadInWords(spread)).toBe(
    "dose 8.2 % for the whole piece, 3 % from place to place (over 1.5 mm), 5 % from line to line; spot 6 %",
  );
  expect(heldIfWords(spread)).toMatch(
    /by 3 % from place to place and by 5 % from line to line, .*\(8\.2 % less, as set, 8\.2 % more\)/,
  );
});

it("a report shows unevenness and tone shift beside the expected error, and what the machine adds", () => {
  const variation = {
    ...steady,
    local: { unevenness: 1.1, toneShift: 9 },
    line: { unevenness: 1.2, toneShift: 9 },
    spot: { unevenness: 1.3, toneShift: 9 },
  };
  const prediction = predicted({ expectedVisualError: 2.5, unevenness: 2.4, toneShift: 2.1, variation });
  const told = predictionFacts.tell({ report: { job: { ...job, spread }, prediction } } as FactSource);
  const fact = (name: string) => told.find((each) => each.name === name);
  expect(fact("Expected error")?.value).toBe("2.50 L*");
  expect(fact("Unevenness")).toMatchObject({
    value: "2.40 L*",
    note: expect.stringMatching(/Blotches add 1\.10 L\*, streaks 1\.20 L\*, a spot that varies 1\.30 L\*/),
  });
  expect(fact("Tone shift")).toMatchObject({ value: "2.10 L*", note: expect.stringContaining("proof") });
  expect(fact("Variation of the machine")?.value).toBe(spreadInWords(spread));
});

describe("a comparison", () => {
  const tints = { mid: { photoLightness: 50, graininess: 0 }, light: { photoLightness: 85, graininess: 0 } };
  const candidate = {
    ...{ method: "stucki", tonalResolution: [], tints, switching: {} },
    ...{ visualErrorUnderdosed: 11, visualErrorOverdosed: 12, visualErrorSmallerSpot: 13 },
    ...{ visualErrorLargerSpot: 14, expectedVisualError: 15, unevenness: 16, toneShift: 17 },
  } as unknown as Candidate;
  const compared = (parts: Partial<typeof spread>) =>
    ({ candidates: [candidate], spread: { ...spread, ...parts } }) as unknown as Comparison;
  const figures = (parts: Partial<typeof spread>) =>
    Object.fromEntries(
      tellingFigures(compared(parts)).map((column) => [headOf(column), column.value(candidate)]),
    );

  it("names the deviations of its own spread", () => {
    expect(figures({})).toMatchObject({
      ...{ "dose −8.2%, L*": 11, "dose +8.2%, L*": 12, "spot −6%, L*": 13, "spot +6%, L*": 14 },
      ...{ "expected L*": 15, "uneven L*": 16, "tone shift L*": 17 },
    });
  });

  it("leaves out the errors of a part that does not vary, and keeps their places in its file", () => {
    const heads = Object.keys(figures({ spot: 0 }));
    expect(heads.filter((head) => /^(dose|spot)/.test(head))).toEqual(["dose −8.2%, L*", "dose +8.2%, L*"]);
    const [head, line] = comparisonCsv(compared({ common: 0 }))
      .split("\r\n")
      .map((each) => each.split(","));
    const written = (key: string) => line[head.indexOf(key)];
    const keys = ["Underdosed", "Overdosed", "SmallerSpot", "LargerSpot"].map((key) => `visualError${key}`);
    expect(keys.map(written)).toEqual(["", "", "13", "14"]);
    expect(["unevenness", "toneShift"].map(written)).toEqual(["16", "17"]);
  });
});
