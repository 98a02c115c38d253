import Papa from "papaparse";
import { packageVersion } from "../core/version.js";
import { visible } from "../core/words.js";
import type { UploadEntry } from "./entry.js";
import type { Verdict } from "./verdict.js";

/** The text of `batch.json`. */
export function batchJson(verdicts: readonly Verdict[]): string {
  const tool = { name: "spotpitch", version: packageVersion() };
  return `${JSON.stringify({ tool, uploads: verdicts.map(({ entry }) => entry) }, null, 2)}\n`;
}

/** The text of `batch.csv`. Cells that a spreadsheet would take for formulae are escaped: files may be named like one. */
export function batchCsv(verdicts: readonly Verdict[]): string {
  const rows = verdicts.map(({ entry }) =>
    Object.fromEntries(Object.entries(rowOf(entry)).map(([head, cell]) => [head, visible(cell)])),
  );
  return `${Papa.unparse(rows, { escapeFormulae: true, newline: "\n" })}\n`;
}

function rowOf(entry: UploadEntry): Record<string, string> {
  const { file, state, grade, code, message, customerNote, note, outputs, figures, warnings } = entry;
  return {
    file,
    state,
    grade,
    code,
    message,
    "customer note": customerNote ?? "",
    note: note ?? "",
    "width mm": figures?.widthMm.toFixed(2) ?? "",
    "height mm": figures?.heightMm.toFixed(2) ?? "",
    "lines per inch": figures?.linesPerInch.toFixed(1) ?? "",
    "pixels per mm": figures?.pxPerMm.toFixed(2) ?? "",
    method: figures?.method ?? "",
    material: figures?.material ?? "",
    seconds: figures?.seconds.toFixed(0) ?? "",
    warnings: warnings?.map((warning) => warning.code).join(" ") ?? "",
    outputs: outputs.join(" "),
  };
}
