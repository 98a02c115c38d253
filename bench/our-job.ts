import { existsSync, readFileSync } from "node:fs";
import type { Report } from "../src/6-report/report.js";
import { compare, type Entry, type FurtherCheck, problemsIn } from "./compare.js";
import { type Job, megapixelsOf } from "./job.js";
import { LINES_PER_INCH, type Part, type Setting, sizesOf } from "./setting.js";
import { costCells, costHead, markdownTable } from "./table.js";
import { compensated } from "./tools/ours.js";

/** A smaller photo than elsewhere, because its tones are not compared cell by cell. */
const QUICK_SIZE = [400, 300] as const;

/** Cost of compensation, prediction and preview. No other tool here does this, so there is no comparison. */
export async function ourJob(setting: Setting): Promise<Part> {
  const paragraphs = [
    "The same photo and sizes with the tone corrected for spot and material. Without `--bitmap-only` the command also predicts the piece, measures its visual error and draws a preview. Measured: every run measures the tone curve (empty cache folder). Cached: the curve is from an earlier run. All rows of one size must give the same bitmap, and the report must predict a smaller visual error than without compensation.",
  ];
  const problems = [];
  for (const [columns, rows] of setting.quick ? [QUICK_SIZE] : sizesOf(setting)) {
    const job: Job = { ...setting, columns, rows, linesPerInch: LINES_PER_INCH };
    const entries = await compare(
      setting,
      compensated.map((contender) => [contender, job]),
      checkPrediction,
    );
    addPromiseOfSameBits(entries);
    paragraphs.push(
      `### To ${columns} × ${rows}: ${megapixelsOf(job).toFixed(1)} Mpx`,
      markdownTable(
        ["job", ...costHead, "checksum"],
        entries.map((entry) => [entry.contender.name, ...costCells(entry), entry.output?.checksum ?? "none"]),
      ),
    );
    problems.push(...problemsIn(entries));
  }
  return { paragraphs, problems };
}

const checkPrediction: FurtherCheck = ({ name }, bitmap) => {
  const beside = (ending: string) => bitmap.replace(/\.burn\.png$/, ending);
  if (name.includes("--bitmap-only")) return existsSync(beside(".preview.png")) ? ["a preview"] : [];
  const { prediction }: Pick<Report, "prediction"> = JSON.parse(readFileSync(beside(".report.json"), "utf8"));
  const problems = [".preview.png", ".report.html"].flatMap((ending) =>
    existsSync(beside(ending)) ? [] : [`no ${ending}`],
  );
  if (!prediction) return [...problems, "no prediction"];
  const { visualErrorRms: error, uncompensatedVisualErrorRms: without } = prediction;
  return error < without
    ? problems
    : [...problems, `visual error ${error} with compensation, ${without} without`];
};

function addPromiseOfSameBits([first, ...others]: readonly Entry[]): void {
  const wanted = first.output?.checksum;
  for (const { output, problems } of others) {
    if (output?.checksum !== wanted)
      problems.push(`other pixels than ${first.contender.name}: ${output?.checksum}`);
  }
}
