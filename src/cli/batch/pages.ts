import { mkdir, rename } from "node:fs/promises";
import { join } from "node:path";
import Papa from "papaparse";
import { contactSheet } from "../../batch/contact-sheet.js";
import { packageVersion } from "../../core/version.js";
import { visible } from "../../core/words.js";
import { openOutputSet } from "../output-files.js";
import type { Verdict } from "./pass.js";

const NAMES = ["batch.json", "batch.csv", "index.html"] as const;

/** What a batch says to programs. */
export const batchJson = (verdicts: readonly Verdict[]): string =>
  `${JSON.stringify({ tool: { name: "spotpitch", version: packageVersion() }, uploads: verdicts.map(({ entry }) => entry) }, null, 2)}\n`;

/** Write `batch.json`, `batch.csv` and `index.html`, by way of the folder for what is not complete. */
export async function writePages(verdicts: readonly Verdict[], out: string, work: string): Promise<void> {
  const folder = join(work, "pages");
  await mkdir(folder, { recursive: true });
  const files = await openOutputSet(folder, NAMES);
  await files.write("batch.json", batchJson(verdicts));
  await files.write("batch.csv", batchCsv(verdicts));
  await files.write("index.html", contactSheet(verdicts));
  await files.complete();
  for (const name of NAMES) await rename(join(folder, name), join(out, name));
}

function batchCsv(verdicts: readonly Verdict[]): string {
  const rows = verdicts.map(({ entry }): Record<string, string> => {
    const { file, state, grade, code, message, customerNote, note, outputs, figures } = entry;
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
      warnings: entry.warnings?.map((warning) => warning.code).join(" ") ?? "",
      outputs: outputs.join(" "),
    };
  });
  const shown = rows.map((row) =>
    Object.fromEntries(Object.entries(row).map(([head, cell]) => [head, visible(cell)])),
  );
  // A file may be named like a formula, and a spreadsheet would work it out.
  return `${Papa.unparse(shown, { escapeFormulae: true, newline: "\n" })}\n`;
}
