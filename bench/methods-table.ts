/**
 * Visual error of every halftone method at six densities on two materials, on the middle 512 × 512 pixels of a real photograph:
 * `npm run bench:methods [-- allium-oreophilum … --methods floyd-steinberg,dose-feedback --densities 127,508]` (about eight
 * minutes a photograph). Each cell is ΔL* rms with dose and spot as set / expected on a machine that varies.
 */
import { parseArgs } from "node:util";
import { halftoneMethods } from "../src/4-halftone/catalogue.js";
import { type PrepareOptions, prepare } from "../src/index.js";
import { comparedMaterials } from "./materials.js";
import { middleOf } from "./middle-of-photo.js";

const SIDE_PX = 512;
const SPOT_MM = 0.115;
const { values: asked, positionals } = parseArgs({
  options: {
    methods: { type: "string" },
    densities: { type: "string", default: "150,254,339,508,762,1016" },
  },
  allowPositionals: true,
});
const PHOTOS = positionals.length > 0 ? positionals : ["airplane-from-above"];
const LINES_PER_INCH = asked.densities.split(",").map(Number);
const METHODS = asked.methods?.split(",") ?? halftoneMethods.map(({ id }) => id);

async function cell(
  photo: Uint8Array,
  method: string,
  linesPerInch: number,
  material: NonNullable<PrepareOptions["material"]>,
) {
  // Stevenson and Arce's taps need a hexagonal grid: a line pitch of √3 times the pitch along the lines.
  const stretch = method === "stevenson-arce" ? Math.sqrt(3) : 1;
  const pitchMm = 25.4 / linesPerInch;
  const { report } = await prepare(photo, {
    method,
    linesPerInch,
    linesPerInchAlong: linesPerInch * stretch,
    widthMm: SIDE_PX * pitchMm,
    heightMm: SIDE_PX * pitchMm,
    spotMm: SPOT_MM,
    material,
    autoTone: false,
  });
  const { prediction } = report;
  if (!prediction) throw new Error("no prediction");
  return prediction;
}

for (const name of PHOTOS) {
  const photo = await middleOf(name, SIDE_PX);
  for (const [shape, material] of Object.entries(comparedMaterials)) {
    console.log(`\n### ${name}, ${shape} material, ${SPOT_MM} mm spot\n`);
    console.log(`| method | ${LINES_PER_INCH.join(" | ")} |`);
    console.log(`|---|${LINES_PER_INCH.map(() => "---|").join("")}`);
    for (const id of METHODS) {
      const cells: string[] = [];
      for (const linesPerInch of LINES_PER_INCH) {
        const { visualErrorRms, expectedVisualError } = await cell(photo, id, linesPerInch, material);
        cells.push(`${visualErrorRms.toFixed(2)} / ${expectedVisualError.toFixed(2)}`);
      }
      console.log(`| ${id} | ${cells.join(" | ")} |`);
    }
  }
}
