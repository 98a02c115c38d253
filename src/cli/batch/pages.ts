import { mkdir, rename } from "node:fs/promises";
import { join } from "node:path";
import { contactSheet } from "../../batch/contact-sheet.js";
import type { PassResult } from "../../batch/lists.js";
import { batchCsv, batchJson } from "../../batch/lists.js";
import { openOutputSet } from "../output-files.js";

/** Write `batch.json`, `batch.csv` and `index.html`, first into the folder for unfinished files, then into their places. */
export async function writePages({ verdicts, laid }: PassResult, out: string, work: string): Promise<void> {
  const pages = {
    "batch.json": batchJson(verdicts, laid),
    "batch.csv": batchCsv(verdicts),
    "index.html": contactSheet(verdicts),
  };
  const folder = join(work, "pages");
  await mkdir(folder, { recursive: true });
  const files = await openOutputSet(folder, Object.keys(pages));
  for (const [name, text] of Object.entries(pages)) await files.write(name, text);
  await files.complete();
  for (const name of Object.keys(pages)) await rename(join(folder, name), join(out, name));
}
