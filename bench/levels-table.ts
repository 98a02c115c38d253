/**
 * Visual error by power levels, on the middle 512 × 512 pixels of real photographs, at two densities on two materials:
 * `npm run bench:levels`. Each cell is ΔL* rms with dose and spot as set / expected on a machine that varies; then tones held in a
 * detail of 0.25 mm and of 1 mm.
 */
import { type PrepareOptions, prepare } from "../src/index.js";
import { comparedMaterials } from "./materials.js";
import { middleOf } from "./middle-of-photo.js";

const LEVELS = [2, 4, 16, 256];
const LINES_PER_INCH = [254, 508];
const SIDE_PX = 512;
const SPOT_MM = 0.115;
const PHOTOS = process.argv.length > 2 ? process.argv.slice(2) : ["airplane-from-above", "allium-oreophilum"];

/** 256 levels need no halftone, as with `auto`. */
const methodFor = (levels: number): string => (levels === 256 ? "auto" : "floyd-steinberg");

async function cell(
  photo: Uint8Array,
  levels: number,
  linesPerInch: number,
  material: PrepareOptions["material"],
): Promise<string> {
  const sideMm = (SIDE_PX * 25.4) / linesPerInch;
  const { report } = await prepare(photo, {
    levels,
    method: methodFor(levels),
    linesPerInch,
    widthMm: sideMm,
    heightMm: sideMm,
    spotMm: SPOT_MM,
    autoTone: false,
    kind: "photo",
    ...(material === undefined ? {} : { material }),
  });
  const { prediction, tonalResolution = [] } = report;
  if (!prediction) throw new Error("no prediction");
  const held = [0.25, 1].map((mm) => tonalResolution.find(({ detailMm }) => detailMm === mm)?.held ?? 0);
  return `${prediction.visualErrorRms.toFixed(2)} / ${prediction.expectedVisualError.toFixed(2)}; ${held[0].toFixed(1)}, ${held[1].toFixed(1)}`;
}

for (const name of PHOTOS) {
  const photo = await middleOf(name, SIDE_PX);
  console.log(`\n### ${name}, ${SPOT_MM} mm spot\n`);
  console.log(`| material | lines per inch | ${LEVELS.map((levels) => `${levels} levels`).join(" | ")} |`);
  console.log(`|---|---|${LEVELS.map(() => "---|").join("")}`);
  for (const [shape, material] of Object.entries(comparedMaterials)) {
    for (const linesPerInch of LINES_PER_INCH) {
      const cells: string[] = [];
      for (const levels of LEVELS) cells.push(await cell(photo, levels, linesPerInch, material));
      console.log(`| ${shape} | ${linesPerInch} | ${cells.join(" | ")} |`);
    }
  }
}
