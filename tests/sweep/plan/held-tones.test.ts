import { expect, it } from "vitest";
import type { PlanRow } from "../../../src/6-report/plan.js";
import { checkPlanOptions, planLenses } from "../../../src/options/plan-options.js";
import { blurringPart } from "../../../src/sweep/plan/held-tones.js";

const [lens] = planLenses(checkPlanOptions({ spotMm: 0.1 }));
const row = { pitchMm: 0.1 } as PlanRow;
const steady = { common: 0, local: 0, localLengthMm: 1000, line: 0, spot: 0 };

/*
 * A field of 1000 mm keeps all of its variance in a square of 1 mm. Lines 0.1 mm apart keep p/s − p·c/(√π·s²) of theirs, with
 * c = 0.05 mm, half of the spot: 0.0972 (the closed form where exp(−(s/c)²) is nothing). So lines count as much as places at
 * 4 %/√0.0972 = 12.83 %.
 */
it.each([
  ["places, if lines average out", { local: 0.04, line: 0.127 }, "local", 0.04],
  ["lines, if they vary much more", { local: 0.04, line: 0.13 }, "line", 0.13],
  ["lines alone", { line: 0.01 }, "line", 0.01],
  ["places alone", { local: 0.01, common: 0.2 }, "local", 0.01],
  ["the whole piece, if nothing varies within it", { common: 0.08, spot: 0.3 }, "common", 0.08],
] as const)("tones of a detail are lost to %s", (_, given, part, deviation) => {
  expect(blurringPart({ ...steady, ...given }, lens, row, 1)).toEqual({ part, deviation });
});

it("a short field averages out in a detail, and then lines count", () => {
  // πℓ²/s² = 0.0079 of a field of 0.05 mm, by expanding the mean of its correlation.
  const spread = { ...steady, local: 0.04, localLengthMm: 0.05, line: 0.04 };
  expect(blurringPart(spread, lens, row, 1)?.part).toBe("line");
  // A point sees the whole field, and of lines that overlap p/(√π·c) = 0.56 at 0.05 mm.
  expect(blurringPart(spread, lens, { ...row, pitchMm: 0.05 }, 0.001)?.part).toBe("local");
});

it("nothing takes tones from a detail on a machine that does not vary", () => {
  expect(blurringPart({ ...steady, spot: 0.1 }, lens, row, 1)).toBeUndefined();
});
