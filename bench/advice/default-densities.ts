import { resolveOptions } from "../../src/options/options.js";
import { tryDensity } from "../../src/sweep/plan/density-trial.js";
import { trialsFor } from "../../src/sweep/plan/trial-densities.js";
import { type DensityTrial, worthCurve } from "../../src/sweep/plan/useful-tones.js";
import { markdownTable } from "../table.js";

const SPOTS_MM = [0.05, 0.08, 0.1, 0.115, 0.15, 0.2, 0.3];
const MATERIALS = ["slate", "black-anodised-aluminium", "birch-plywood", "clear-acrylic"];
/** The compared detail and the gain of a plan without options. */
const DETAIL_MM = 0.25;
const GAIN = 0.25;

/** Overdrive of the density that is worth its time, by tone range and spot. */
export async function defaultDensities(): Promise<string> {
  const lines: string[][] = [];
  for (const material of MATERIALS) {
    const { toneRange } = resolveOptions({ material }).material;
    const cells: string[] = [];
    for (const spotMm of SPOTS_MM) cells.push((await worthOverdrive(material, spotMm)).toFixed(2));
    lines.push([material, toneRange.toFixed(3), ...cells]);
  }
  return markdownTable(["material", "tone range", ...SPOTS_MM.map((spot) => `${spot} mm`)], lines);
}

async function worthOverdrive(material: string, spotMm: number): Promise<number> {
  const options = { material, spotMm };
  const trials: DensityTrial[] = [];
  for (const trial of trialsFor([options])) trials.push(await tryDensity(trial, {}));
  return (worthCurve(trials, Math.max(DETAIL_MM, spotMm)).worthAt(GAIN).linesPerInch * spotMm) / 25.4;
}
