import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { defaultLinesPerInch } from "../../../src/core/default-density.js";
import { resolveOptions } from "../../../src/options/options.js";
import { prepareTable } from "../../../src/options/tables.js";
import { DEPENDS, tryDensity } from "../../../src/sweep/plan/density-trial.js";
import { trialsFor } from "../../../src/sweep/plan/trial-densities.js";
import { type DensityTrial, worthCurve } from "../../../src/sweep/plan/useful-tones.js";
import { photographPath } from "../../pipeline/photograph.js";
import { plan, prepare } from "../../support/prepare.js";

/** What changes the picture, its place and its files, but not what a density is worth. A new option has to be entered here or there. */
const IGNORED = [
  ...["widthMm", "heightMm", "aroundMm", "coneLayout", "place", "wallMm", "fit", "mirror"],
  ...["crop", "focus", "mask", "oval", "vignetteMm", "borderMm", "borderGapMm"],
  ...["kind", "autoTone", "clipPercent", "brightness", "contrast", "gamma", "lift", "localContrast"],
  ...[
    "sharpen",
    "negative",
    "accelerationMmPerS2",
    "stepTimeS",
    "linesPerInchOffered",
    "bitmapOnly",
    "format",
    "text",
    "textHeightMm",
  ],
  // Each pass burns alike, and its power is for the user to set; a plan has widened its spots already.
  ...["passes", "powerPercent", "wavelengthMm", "propagationRatio", "defocusMm"],
  ...["aim", "searchSeconds", "startBitmap"],
];

it("a trial knows of every option whether it matters", () => {
  expect([...DEPENDS, ...IGNORED].sort()).toEqual(Object.keys(prepareTable).sort());
});

describe("the table of default densities", () => {
  const curves = new Map();

  // As `npm run bench:advice -- --only table` computes it anew.
  it.each([
    ["slate", 0.115],
    ["birch-plywood", 0.2],
  ])("has what trials find for %s and a spot of %d mm", async (material, spotMm) => {
    const trials: DensityTrial[] = [];
    for (const trial of trialsFor([{ material, spotMm }])) trials.push(await tryDensity(trial, { curves }));
    const { linesPerInch } = worthCurve(trials, 0.25).worthAt(0.25);
    const resolved = resolveOptions({ material }).material;
    expect(linesPerInch / defaultLinesPerInch(spotMm, resolved)).toBeCloseTo(1, 1.5);
  });

  it("agrees with a plan: without densities it recommends the default of prepare", async () => {
    const slate = { widthMm: 6, spotMm: 0.115, material: "slate" };
    const boats = await readFile(photographPath("nagasaki-boats"));
    const made = await plan(slate, boats, { curves });
    const { report } = await prepare(boats, { ...slate, bitmapOnly: true });
    expect(Math.round(made.recommended.linesPerInch)).toBe(Math.round(report.job.linesPerInch));
  });
});
