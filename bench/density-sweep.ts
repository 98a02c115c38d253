/**
 * Figures of one photograph at 39 densities on three materials: `npm run bench:sweep` (about ten minutes). A smooth physics gives
 * smooth columns, so a sawtooth shows an artefact of rounding. Options: `--method M`, `--materials maple,steep`, `--keep FILE`
 * writes the figures as JSON, `--against FILE` compares with kept ones, `--plot FILE.svg` (or .png) draws both.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { prepare } from "../src/index.js";
import { sweepMaterials } from "./sweep-materials.js";
import { drawSweep, type Sweep, type SweepRow } from "./sweep-plot.js";
import { markdownTable } from "./table.js";

const PHOTO = new URL("../sample-images/portrait.jpg", import.meta.url);
const LINES_PER_INCH = Array.from({ length: 39 }, (_, k) => 150 + 25 * k);
const PREDICTED = [
  "visualErrorRms",
  "visualErrorBias",
  "expectedVisualError",
  "unevenness",
  "toneShift",
] as const;
const HELD_MM = [0.25, 0.5, 1];

const { values: asked } = parseArgs({
  options: {
    method: { type: "string", default: "clustered-dot" },
    materials: { type: "string", default: Object.keys(sweepMaterials).join(",") },
    keep: { type: "string" },
    against: { type: "string" },
    plot: { type: "string" },
  },
});

async function rowAt(photo: Uint8Array, material: keyof typeof sweepMaterials, linesPerInch: number) {
  const { report } = await prepare(photo, {
    method: asked.method,
    linesPerInch,
    widthMm: 40,
    spotMm: 0.115,
    material: sweepMaterials[material],
  });
  const row: Record<string, number> = { linesPerInch };
  for (const [name, value] of Object.entries(report.prediction ?? {})) {
    if (PREDICTED.some((wanted) => wanted === name) && typeof value === "number") row[name] = value;
  }
  for (const { detailMm, held } of report.tonalResolution ?? []) {
    if (HELD_MM.includes(detailMm)) row[`held ${detailMm} mm`] = held;
  }
  return row;
}

/** Largest difference of neighbours in a column, and where. */
function largestStep(rows: readonly SweepRow[], column: string): { size: number; linesPerInch: number } {
  let largest = { size: 0, linesPerInch: 0 };
  for (let k = 1; k < rows.length; k++) {
    const size = Math.abs(rows[k][column] - rows[k - 1][column]);
    if (size > largest.size) largest = { size, linesPerInch: rows[k].linesPerInch };
  }
  return largest;
}

function printSweep(material: string, rows: readonly SweepRow[], before: readonly SweepRow[] | undefined) {
  const columns = Object.keys(rows[0]).filter((name) => name !== "linesPerInch");
  const figures = rows.map((row) => [
    String(row.linesPerInch),
    ...columns.map((name) => row[name].toFixed(2)),
  ]);
  const stepsOf = (name: string, of: readonly SweepRow[]): string[] => [
    name,
    ...columns.map((column) => {
      const { size, linesPerInch } = largestStep(of, column);
      return `${size.toFixed(2)} at ${linesPerInch}`;
    }),
  ];
  const steps = [stepsOf("largest step", rows), ...(before ? [stepsOf("largest step before", before)] : [])];
  console.log(`\n### ${material}\n`);
  console.log(markdownTable(["lines per inch", ...columns], [...figures, ...steps]));
}

const isMaterial = (name: string): name is keyof typeof sweepMaterials => name in sweepMaterials;

const photo = readFileSync(PHOTO);
const before: Sweep = asked.against === undefined ? {} : JSON.parse(readFileSync(asked.against, "utf8"));
const sweep: Record<string, SweepRow[]> = {};
for (const material of asked.materials.split(",")) {
  if (!isMaterial(material)) throw new Error(`No material ${material}.`);
  sweep[material] = [];
  for (const linesPerInch of LINES_PER_INCH) {
    sweep[material].push(await rowAt(photo, material, linesPerInch));
  }
  printSweep(material, sweep[material], before[material]);
}
if (asked.keep !== undefined) writeFileSync(asked.keep, JSON.stringify(sweep, undefined, 1));
if (asked.plot !== undefined) await drawSweep(asked.plot, sweep, before);
