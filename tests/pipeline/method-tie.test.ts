import { beforeEach, describe, expect, it, vi } from "vitest";
import { variedError } from "../../src/5-burn/variation.js";
import { prepare } from "../../src/index.js";
import { pngFile } from "../1-photo/make-file.js";

// The errors are set here, so that a tie can be arbitrarily close. The choice itself is the program's.
vi.mock("../../src/5-burn/variation.js", { spy: true });

const judged = vi.mocked(variedError);
const nothing = { unevenness: 0, toneShift: 0 };
const parts = { common: nothing, local: nothing, line: nothing, spot: nothing };
beforeEach(() => {
  judged.mockReset();
});

/** The method that `auto` takes when the three that it tries, simplest first, are judged so. */
async function chosen(...errors: readonly number[]) {
  for (const expected of errors) judged.mockReturnValueOnce({ ...nothing, expected, parts });
  const samples = Array.from({ length: 32 * 32 }, (_, i) => 255 * ((i % 32) / 31));
  const photo = pngFile({ type: "grey", bits: 8, columns: 32, rows: 32, samples });
  // Without the prediction nothing but the choice is judged.
  const { report } = await prepare(photo, { kind: "photo", widthMm: 5, bitmapOnly: true });
  expect(report.methodRanking).toEqual([
    { method: "floyd-steinberg", trialError: errors[0] },
    { method: "ostromoukhov", trialError: errors[1] },
    { method: "clustered-dot", trialError: errors[2] },
  ]);
  return report.job.method;
}

// As DEVELOPERS.md has it: within 3 % the simpler stays.
describe("auto at a tie", () => {
  it.each([
    ["all alike", [1, 1, 1], "floyd-steinberg"],
    ["the second better by 2.9 %", [1, 0.971, 1], "floyd-steinberg"],
    ["the second better by 3 %", [1, 0.97, 1], "floyd-steinberg"],
    ["the second better by 3.1 %", [1, 0.969, 1], "ostromoukhov"],
    ["the third better by 2.9 %", [2, 2, 1.942], "floyd-steinberg"],
    ["the third better by 3.1 %", [2, 2, 1.938], "clustered-dot"],
    ["the third better than the first by 3.1 %, the second by 2.9 %", [1, 0.971, 0.969], "clustered-dot"],
    ["the second better by 4 %, the third than it by 2.9 %", [1, 0.96, 0.96 * 0.971], "ostromoukhov"],
    ["the second better by 4 %, the third than it by 3.1 %", [1, 0.96, 0.96 * 0.969], "clustered-dot"],
    ["the first the best", [1, 1.5, 1.2], "floyd-steinberg"],
  ])("%s: %j, %s", async (_, errors, method) => {
    expect(await chosen(...errors)).toBe(method);
  });
});
