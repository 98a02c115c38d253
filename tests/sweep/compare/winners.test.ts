import { expect, it } from "vitest";
import type { Candidate } from "../../../src/index.js";
import { winnersOf } from "../../../src/sweep/compare/winners.js";

/** Nominal error, expected error, seconds, and tones that a detail of 0.25 mm holds. */
const candidates = (
  ...figures: readonly (readonly [number, number, number] | readonly [number, number, number, number])[]
): Candidate[] =>
  figures.map(
    ([visualErrorRms, expectedVisualError, seconds, held = 10]) =>
      ({
        ...{ visualErrorRms, expectedVisualError, seconds, warnings: [] },
        tonalResolution: [{ detailMm: 0.25, addressable: 20, nominal: 12, held }],
      }) as Partial<Candidate> as Candidate,
  );

// The rule by hand: no more than 0.3 L* above the smallest error, nine tenths of its held tones, at least a tenth quicker; within 1 % of the quickest the smallest error.
it.each<[string, Candidate[], number, number, number]>([
  ["saves time only where tones stay", candidates([0.3, 1.3, 417], [7.4, 7.6, 401]), 0, 0, 0],
  ["has no more to lose where errors are large", candidates([0.3, 4, 400], [0.4, 4.9, 200]), 0, 0, 0],
  ["saves less than a tenth of the time", candidates([1, 2, 100], [1, 2.1, 92]), 0, 0, 0],
  ["saves a tenth", candidates([1, 2, 100], [1, 2.1, 90]), 0, 0, 1],
  ["allows 0.3 L*", candidates([0.3, 0.4, 400], [0.4, 0.69, 200], [0.2, 0.71, 100]), 2, 0, 1],
  [
    "takes the least error within 1 % of time",
    candidates([1, 2, 300], [1, 2.2, 101], [1, 2.1, 101.9]),
    0,
    0,
    2,
  ],
  ["saves no time at the cost of tones", candidates([1, 2, 100, 11], [1, 2.1, 50, 9.8]), 0, 0, 0],
  ["saves it for a tone of ten", candidates([1, 2, 100, 10], [1, 2.1, 50, 9]), 0, 0, 1],
  ["takes the first of equals", candidates([1, 2, 100], [1, 2, 100]), 0, 0, 0],
])("%s", (_, given, nominal, robust, fast) => {
  expect(winnersOf(given).winners).toEqual({ nominal, robust, fast });
});

it("takes no search that had no time for a pass, unless there is nothing else", () => {
  const warnings = [{ code: "not-searched", message: "", data: {} }] as const;
  const [search, other] = candidates([1, 2, 100], [1, 2, 100]);
  expect(winnersOf([{ ...search, warnings }, other]).winners).toEqual({ nominal: 1, robust: 1, fast: 1 });
  expect(winnersOf([{ ...search, warnings }]).winners).toEqual({ nominal: 0, robust: 0, fast: 0 });
});

it("says why", () => {
  const { reasons } = winnersOf(candidates([0.3, 4, 400], [0.4, 4.2, 200]));
  expect(reasons).toEqual({
    nominal: "smallest error if dose and spot are exactly as set: 0.30 L*",
    robust: "smallest expected error on a machine that varies: 4.00 L*",
    fast: "saves 50 % of the time of the robust one, for 0.20 L* more expected error, which nobody notices",
  });
  expect(winnersOf(candidates([0.3, 4, 400])).reasons.fast).toMatch(/no other saves a tenth/);
});
