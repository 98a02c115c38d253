import { existsSync, readFileSync } from "node:fs";
import type { Report } from "../src/6-report/report.js";
import { compare, type Entry, type FurtherCheck, problemsIn } from "./compare.js";
import { type Job, megapixelsOf } from "./job.js";
import { LINES_PER_INCH, type Part, type Setting, sizesOf } from "./setting.js";
import { costCells, costHead, markdownTable } from "./table.js";
import { compensated } from "./tools/ours.js";

/** Smaller than elsewhere: its tones are not compared cell by cell. */
const QUICK_SIZE = [400, 300] as const;

/** What compensation, prediction and preview take. Nothing else here does any of it, so they stand by themselves. */
export async function ourJob(setting: Setting): Promise<Part> {
  const paragraphs = [
    "The same photo and sizes with the tone corrected for spot and material; without `--bitmap-only` the piece is predicted as well, its visual error measured and a preview drawn. Measured: the tone curve is worked out in every run (empty cache folder). Cached: an earlier run left it. All rows of a size have to give the same bitmap, and the report has to foresee a smaller visual error than without compensation.",
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
