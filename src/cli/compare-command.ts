import { basename } from "node:path";
import { reportJson } from "../6-report/files/report-json.js";
import type { CandidatePictures } from "../6-report/pictures/candidate-pictures.js";
import { comparisonCsv } from "../6-report/words/comparison-columns.js";
import { commandReaderFor } from "./command-reader.js";
import { comparisonTable } from "./comparison-table.js";
import { createCurveFolder } from "./curve-folder.js";
import { commandOptions } from "./flags.js";
import { readInputFile } from "./input-files.js";
import { checkFolder, openOutputSet } from "./output-files.js";
import { createCounter } from "./progress.js";
import { readOptions, writeNotes } from "./read-options.js";
import type { PhotoRequest } from "./request.js";
import { print } from "./terminal.js";

const JSON_NAME = "compare.json";
const CSV_NAME = "compare.csv";
const PAGE_NAME = "compare.html";
const SHEET_NAME = "compare.png";

/** `spotpitch compare`: read the photo, prepare it in several ways, write and print the figures. */
export async function compareCommand(request: PhotoRequest): Promise<void> {
  const asked = await readOptions(commandOptions.compare, request.typed, request);
  writeNotes(asked.notes);
  const reader = commandReaderFor(asked);
  const out = request.out ?? asked.out ?? ".";
  const { comparisonPage } = await import("../6-report/pages/comparison-page.js");
  const { comparisonSheet } = await import("../6-report/pictures/comparison-sheet.js");
  const { compare } = await import("../sweep/compare/compare.js");
  const photo = await readInputFile(request.photo, "photo");
  await checkFolder(out);
  const progress = createCounter(process.stderr, "candidates");
  const computingSeconds: number[] = [];
  const pictures: CandidatePictures[] = [];
  try {
    const made = await compare(photo, asked.options, {
      fileName: basename(request.photo),
      reader,
      onProgress: progress.show,
      onCandidate: (done) => {
        computingSeconds[done.index] = done.computingSeconds;
        if (done.pictures) pictures[done.index] = done.pictures;
      },
      pictures: true,
      curves: createCurveFolder(),
    });
    const files = await openOutputSet(out, [PAGE_NAME, SHEET_NAME, JSON_NAME, CSV_NAME]);
    await files.write(PAGE_NAME, comparisonPage(made, pictures, reader));
    await files.write(SHEET_NAME, await comparisonSheet(made, pictures));
    await files.write(JSON_NAME, reportJson(made));
    await files.write(CSV_NAME, comparisonCsv(made));
    const written = await files.complete();
    progress.clear();
    print(request.json ? reportJson(made) : `${comparisonTable(made, computingSeconds, written)}\n`);
  } finally {
    progress.clear();
  }
}
