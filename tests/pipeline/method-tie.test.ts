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

/** The method that `auto` takes when those that it tries, finest texture first, are judged so. */
async function chosen(...errors: readonly number[]) {
  for (const expected of errors) judged.mockReturnValueOnce({ ...nothing, expected, parts });
  const samples = Array.from({ length: 32 * 32 }, (_, i) => 255 * ((i % 32) / 31));
  const photo = pngFile({ type: "grey", bits: 8, columns: 32, rows: 32, samples });
  // Without the prediction nothing but the choice is judged.
  const { report } = await prepare(photo, { kind: "photo", widthMm: 5, bitmapOnly: true });
  const tried = ["ostromoukhov", "floyd-steinberg", "green-noise", "clustered-dot"];
  expect(report.methodRanking).toEqual(tried.map((method, k) => ({ method, trialError: errors[k] })));
  return report.job.method;
}

// The order is that of the textures: scattered dots, of which ostromoukhov's have fewer patterns, clumps, a screen.
describe("auto takes the finest texture within 0.3 L* of the best", () => {
  it.each([
    ["all alike", [1, 1, 1, 1], "ostromoukhov"],
    ["another scattered one better by a hair", [1, 0.8, 1, 1], "ostromoukhov"],
    ["another scattered one better by 0.31", [1, 0.69, 1, 1], "floyd-steinberg"],
    ["the coarsest better by 0.29", [1, 1, 1, 0.71], "ostromoukhov"],
    ["the coarsest better by 0.31", [1, 1, 1, 0.69], "clustered-dot"],
    ["the coarsest better than the finest by 0.31, than the next by 0.29", [1, 1, 0.98, 0.69], "green-noise"],
    // Steep at 508 lines per inch, and gradual, by the model's page on variation.
    ["the coarser ones much better, alike", [1.6, 1.7, 0.84, 0.83], "green-noise"],
    ["the coarsest better by a tenth", [0.7, 0.75, 0.9, 0.59], "ostromoukhov"],
    ["the finest the best", [1, 1.5, 1.2, 1.1], "ostromoukhov"],
  ])("%s: %j, %s", async (_, errors, method) => {
    expect(await chosen(...errors)).toBe(method);
  });
});
