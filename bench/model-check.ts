/**
 * Random jobs against a brute-force simulation that shares no code with the product (`tests/reference`): visual error, unevenness
 * and tone shift of both, in Markdown: `npm run bench:model` (minutes). `--jobs 60`, `--seed 1`; `--only 7` for one job;
 * `--seeds 24` realisations of each random part; `--parts` for what each part of the variation adds.
 */
import { parseArgs } from "node:util";
import {
  FIGURES,
  type Figure,
  type Figures,
  makeModelPiece,
  PARTS,
  type PartFigures,
  type ReferenceFigures,
  simulateModelCases,
} from "../tests/pipeline/model-figures.js";
import { drawModelJob, type ModelJob } from "../tests/pipeline/model-job.js";
import { spreadOf } from "./statistics.js";
import { markdownTable, NONE } from "./table.js";

/** A figure is off if it misses the reference by more than this share and by more than this in L*. */
const MOST_SHARE = 0.08;
const MOST_LIGHTNESS = 0.03;

interface Checked {
  readonly index: number;
  readonly job: ModelJob;
  readonly figures: Figures;
  readonly variation: PartFigures | undefined;
  readonly reference: ReferenceFigures;
}

/** Deviation of a figure from the reference; undefined if the report does not have it. */
function deviationOf({ figures, reference }: Checked, name: Figure) {
  const value = figures[name];
  if (value === undefined) return undefined;
  const lightness = value - reference[name];
  const share = lightness / Math.max(1e-9, Math.abs(reference[name]));
  return { lightness, share, off: Math.abs(share) > MOST_SHARE && Math.abs(lightness) > MOST_LIGHTNESS };
}

const deviationsOf = (checked: readonly Checked[], name: Figure) =>
  checked.map((each) => deviationOf(each, name)).filter((deviation) => deviation !== undefined);

/** Ours / reference, and how far off. A bias is near 0, so its share says nothing. */
function figureCell(checked: Checked, name: Figure): string {
  const deviation = deviationOf(checked, name);
  const reference = checked.reference[name].toFixed(3);
  if (!deviation) return `${NONE} / ${reference}`;
  const apart = name === "visualErrorBias" ? "" : `, ${percent(deviation.share)}`;
  return `${checked.figures[name]?.toFixed(3)} / ${reference}${apart}${deviation.off ? " **off**" : ""}`;
}

const percent = (share: number): string => `${share < 0 ? "−" : "+"}${Math.abs(100 * share).toFixed(1)} %`;

const errorCell = ({ reference: { standardErrors } }: Checked): string =>
  `${standardErrors.unevenness.toFixed(3)}, ${standardErrors.toneShift.toFixed(3)}`;

function jobWords({ options, firingLossUs }: ModelJob): string {
  const { linesPerInch = 0, linesPerInchAlong = linesPerInch, spotMm, material, method, levels } = options;
  const same = linesPerInch === linesPerInchAlong;
  const density = `${linesPerInch.toFixed(0)}${same ? "" : ` × ${linesPerInchAlong.toFixed(0)}`} per inch`;
  const spot =
    typeof spotMm === "object" ? `${spotMm.alongMm.toFixed(3)} × ${spotMm.acrossMm.toFixed(3)} mm` : "";
  const surface = typeof material === "object" ? String(material.name) : material;
  const firing = `lag ${options.firingLagUs?.toFixed(0)} µs, loss ${firingLossUs.toFixed(0)} µs at ${options.speedMmPerS?.toFixed(0)} mm/s`;
  const travel = options.oneWay ? "one way" : `shift ${options.lineShiftMm?.toFixed(3)} mm`;
  return `${method}, ${levels} levels, ${density}, ${spot}, ${surface}, ${firing}, ${travel}`;
}

function summaryRow(checked: readonly Checked[], name: Figure): string[] {
  const all = deviationsOf(checked, name);
  if (all.length === 0) return [name, NONE, NONE, NONE, NONE];
  const shares = spreadOf(all.map(({ share }) => Math.abs(share)));
  const lightness = spreadOf(all.map((each) => Math.abs(each.lightness)));
  const relative =
    name === "visualErrorBias"
      ? [NONE, NONE]
      : [shares.median, shares.max].map((share) => `${(100 * share).toFixed(2)} %`);
  const off = all.filter((each) => each.off).length;
  return [name, ...relative, lightness.max.toFixed(3), `${off} of ${all.length}`];
}

function tablesOf(checked: readonly Checked[]): string {
  const head = ["job", "", ...FIGURES.map((name) => `${name}: report / reference`), "standard errors"];
  const rows = checked.map((each) => [
    `${each.index}`,
    jobWords(each.job),
    ...FIGURES.map((name) => figureCell(each, name)),
    errorCell(each),
  ]);
  const summaryHead = ["figure", "median deviation", "worst", "worst in L*", "off"];
  const summary = FIGURES.map((name) => summaryRow(checked, name));
  return `${markdownTable(head, rows)}\n\n${markdownTable(summaryHead, summary)}`;
}

/** What a part adds to unevenness, and to tone shift. */
function partCell({ variation, reference: { parts } }: Checked, part: (typeof PARTS)[number]): string {
  const pair = (name: "unevenness" | "toneShift"): string =>
    `${variation?.[part][name].toFixed(3) ?? NONE} / ${parts[part][name].toFixed(3)}`;
  return `${pair("unevenness")}; ${pair("toneShift")}`;
}

function partsTable(checked: readonly Checked[]): string {
  const head = ["job", ...PARTS.map((part) => `${part}: unevenness, toneShift`)];
  return markdownTable(
    head,
    checked.map((each) => [`${each.index}`, ...PARTS.map((part) => partCell(each, part))]),
  );
}

const { values } = parseArgs({
  options: {
    jobs: { type: "string", default: "60" },
    seed: { type: "string", default: "1" },
    only: { type: "string" },
    parts: { type: "boolean", default: false },
    seeds: { type: "string", default: "24" },
  },
});
const indices = values.only === undefined ? [...Array(Number(values.jobs)).keys()] : [Number(values.only)];
const began = performance.now();
const made = [];
for (const index of indices) {
  const job = await drawModelJob(Number(values.seed), index);
  made.push({ index, job, ...(await makeModelPiece(job, Number(values.seeds))) });
  process.stderr.write(`\rmade ${made.length} of ${indices.length} `);
}
const pieceSeconds = (performance.now() - began) / 1000;
process.stderr.write(`in ${pieceSeconds.toFixed(0)} s, simulating\n`);
const references = await simulateModelCases(made.map(({ referenceCase }) => referenceCase));
const seconds = (performance.now() - began) / 1000;
const checked = made.map((each, k) => ({ ...each, reference: references[k] }));
console.log(`${tablesOf(checked)}\n`);
if (values.parts) console.log(`${partsTable(checked)}\n`);
console.log(
  `A figure is off if it misses by more than ${100 * MOST_SHARE} % and ${MOST_LIGHTNESS} L*. Pieces ${pieceSeconds.toFixed(0)} s, simulation ${(seconds - pieceSeconds).toFixed(0)} s.`,
);
