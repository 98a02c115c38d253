import { expect, it } from "vitest";
import { resolveMaterial } from "../../../src/core/material/material.js";
import { DEFAULT_SPREAD } from "../../../src/core/spread.js";
import { checkPlanOptions, planLenses } from "../../../src/options/plan-options.js";
import { choosePhoto } from "../../../src/sweep/plan/choose-photo.js";
import { gradualPoints } from "../../support/materials.js";
import { madeUpRow } from "./made-up-row.js";

const options = checkPlanOptions({ kind: "photo", spotMm: 0.1 });
const [lens] = planLenses(options);
const material = resolveMaterial({
  ...{ name: "made-up wood", response: gradualPoints, source: "measured" },
  ...{ bareColor: "#e3c9a0", markedColor: "#3a2415" },
});

/** The density chosen of these, where 395 is worth its time. */
function chosen(expectedErrors: Readonly<Record<number, number>>): number {
  const rows = Object.entries(expectedErrors).map(([linesPerInch, expectedVisualError]) =>
    madeUpRow({ linesPerInch: Number(linesPerInch), expectedVisualError, usefulTones: 10 }),
  );
  const worth = { usefulAt: () => Number.NaN, worthAt: () => ({ linesPerInch: 395, isCapped: false }) };
  return choosePhoto({ spread: DEFAULT_SPREAD, lens, material, options, rows, worth }).row.linesPerInch;
}

// Ours: 0.3 L* are noticeable, and densities within 6 % are nearly the same.
it("a density beside the one that is worth its time is taken if its error is noticeably less", () => {
  expect(chosen({ 395: 1, 405: 0.69 })).toBe(405);
  expect(chosen({ 380: 0.69, 395: 1, 405: 0.8 })).toBe(380);
});

it("it is not taken if the error is hardly less, or the density is another", () => {
  expect(chosen({ 395: 1, 405: 0.71 })).toBe(395);
  expect(chosen({ 395: 1, 425: 0.1 })).toBe(395);
  expect(chosen({ 370: 0.1, 395: 1 })).toBe(395);
});
