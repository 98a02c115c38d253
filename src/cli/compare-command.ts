import { basename } from "node:path";
import { type Comparison, comparisonColumns, comparisonCsv } from "../6-report/comparison.js";
import { reportJson } from "../6-report/report-json.js";
import type { CompareOptions } from "../index.js";
import { compareFlags } from "./compare-flags.js";
import { createCurveFolder } from "./curve-folder.js";
import { readInputFile } from "./input-files.js";
import { checkFolder, openOutputSet } from "./output-files.js";
import type { PrepareRequest } from "./prepare-command.js";
import { createCounter } from "./progress.js";
import { readOptions } from "./read-options.js";

const JSON_NAME = "compare.json";
const CSV_NAME = "compare.csv";

/** `spotpitch compare`: read, prepare in several ways, write the figures, tell. */
export async function compareCommand(request: PrepareRequest): Promise<void> {
  const asked = await readOptions(compareFlags, request.typed, request.config);
  const out = request.out ?? asked.out ?? ".";
  const { compare } = await import("../index.js");
  const photo = await readInputFile(request.photo, "photo");
  await checkFolder(out);
  const progress = createCounter(process.stderr, "candidates");
  try {
    const made = await compare(photo, asked.options as CompareOptions, {
      fileName: basename(request.photo),
      onProgress: progress.show,
      curves: createCurveFolder(),
    });
    const files = await openOutputSet(out, [JSON_NAME, CSV_NAME]);
    await files.write(JSON_NAME, reportJson(made));
    await files.write(CSV_NAME, comparisonCsv(made));
    const written = await files.complete();
    progress.clear();
    process.stdout.write(request.json ? reportJson(made) : `${comparisonTable(made, written)}\n`);
  } finally {
    progress.clear();
  }
}

function comparisonTable({ candidates, winners }: Comparison, files: readonly string[]): string {
  const heads = [0, 1].map((line) => comparisonColumns.map(({ head }) => head[line]));
  const cells = candidates.map((one) =>
    comparisonColumns.map(({ value, digits }) => {
      const shown = value(one);
      return typeof shown === "number" ? shown.toFixed(digits) : shown;
    }),
  );
  const lines = [...heads, ...cells];
  const widths = comparisonColumns.map((_, c) => Math.max(...lines.map((line) => line[c].length)));
  const numeric = comparisonColumns.map(({ digits }) => digits !== undefined);
  const laid = lines.map((line) =>
    line
      .map((text, c) => (numeric[c] ? text.padStart(widths[c]) : text.padEnd(widths[c])))
      .join("  ")
      .trimEnd(),
  );
  const named = (k: number) =>
    `${candidates[k].method}, ${cells[k][2]} lines per inch, ${candidates[k].material}`;
  return [
    ...laid,
    "",
    `nominal  ${named(winners.nominal)}: least visual error at the set dose`,
    `robust   ${named(winners.robust)}: least visual error over the dose spread`,
    `fast     ${named(winners.fast)}: least run time, and among those within 1 % of it the least expected error`,
    ...files.map((file) => `wrote    ${file}`),
  ].join("\n");
}
