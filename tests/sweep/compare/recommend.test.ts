import { expect, it } from "vitest";
import type { Candidate } from "../../../src/index.js";
import { recommend } from "../../../src/sweep/compare/recommend.js";

/** Method, expected error, seconds; and what else differs. */
const one = (
  method: string,
  expectedVisualError: number,
  seconds = 100,
  others: Partial<Candidate> = {},
): Candidate =>
  ({
    ...{ method, expectedVisualError, seconds, visualErrorRms: 1, material: "maple", linesPerInch: 254 },
    tonalResolution: [{ detailMm: 0.25, addressable: 20, nominal: 12, held: 10 }],
    ...{ spotAlongMm: 0.1, spotAcrossMm: 0.1, toneMap: "lightness", levels: 2, ...others },
  }) as Candidate;

// The rule by hand: within 0.3 L* of the smallest error, then the finest texture, then a tenth of the time, then the smallest error.
it.each<[string, Candidate[], number]>([
  [
    "the finest texture where nothing is noticeable",
    [one("ostromoukhov", 0.7), one("clustered-dot", 0.59)],
    0,
  ],
  [
    "a coarser one that is noticeably better",
    [one("floyd-steinberg", 1.7), one("clustered-dot", 0.83), one("green-noise", 0.84)],
    2,
  ],
  ["0.3 L* and no more", [one("ostromoukhov", 1.31), one("green-noise", 1.29), one("clustered-dot", 1)], 1],
  ["the better of two fine ones", [one("ostromoukhov", 0.7), one("stucki", 0.69)], 1],
  ["no time at the cost of texture", [one("ostromoukhov", 0.7, 100), one("green-noise", 0.7, 50)], 0],
  ["time that nobody pays for", [one("stucki", 0.5, 100, { linesPerInch: 508 }), one("stucki", 0.79, 50)], 1],
  ["not for less than a tenth of it", [one("stucki", 0.5, 100), one("burkes", 0.6, 91)], 0],
])("takes %s", (_, given, taken) => {
  expect(recommend(given).candidates).toEqual([taken]);
});

it("chooses within each material, and says so", () => {
  const on = (material: string, method: string, error: number) => one(method, error, 100, { material });
  const { candidates, sentence } = recommend([
    ...[on("maple", "stucki", 1.4), on("maple", "green-noise", 0.99)],
    ...[on("slate", "stucki", 0.44), on("slate", "green-noise", 0.5)],
  ]);
  expect(candidates).toEqual([1, 2]);
  expect(sentence).toBe(
    "Take green-noise on maple: its expected error is the smallest (0.99 L*); and stucki on slate: its expected error is the smallest (0.44 L*).",
  );
});

it.each<[string, Candidate[], string]>([
  [
    "a finer texture",
    [one("ostromoukhov", 0.7), one("clustered-dot", 0.59)],
    "Take ostromoukhov: nobody can tell its expected error of 0.70 L* from the smallest (0.59 L*, clustered-dot), and its texture is finer.",
  ],
  [
    "less time",
    [one("stucki", 0.5, 100, { linesPerInch: 508 }), one("stucki", 0.79, 50)],
    "Take 254 lines per inch: nobody can tell its expected error of 0.79 L* from the smallest (0.50 L*, 508 lines per inch), and it saves 50 % of the time.",
  ],
  [
    "both",
    [
      one("clustered-dot", 0.5, 100, { linesPerInch: 508 }),
      one("stucki", 0.6, 80, { linesPerInch: 400 }),
      one("stucki", 0.7, 60),
    ],
    "Take stucki, 254 lines per inch: nobody can tell its expected error of 0.70 L* from the smallest (0.50 L*, clustered-dot, 508 lines per inch), and its texture is finer, and it saves 25 % of the time of stucki, 400 lines per inch.",
  ],
  ["nothing to choose", [one("stucki", 0.5)], "Take stucki: its expected error is 0.50 L*."],
])("says why: %s", (_, given, sentence) => {
  expect(recommend(given).sentence).toBe(sentence);
});
