import { basename } from "node:path";
import { reportJson } from "../6-report/files/report-json.js";
import type { DetailPicture } from "../6-report/pictures/detail-picture.js";
import { commandReaderFor } from "./command-reader.js";
import { createCurveFolder } from "./curve-folder.js";
import { commandOptions } from "./flags.js";
import { readInputFile } from "./input-files.js";
import { findPowerCommand, nextCommand } from "./next-command.js";
import { checkFolder, openOutputSet } from "./output-files.js";
import { planTable } from "./plan-table.js";
import { createCounter } from "./progress.js";
import { readOptions, writeNotes } from "./read-options.js";
import type { PhotoRequest } from "./request.js";
import { print } from "./terminal.js";

/** The photo is undefined for a plan without one. */
type PlanRequest = Omit<PhotoRequest, "photo"> & { readonly photo: string | undefined };

const PAGE = "plan.html";

/** `spotpitch plan`: read the photo, plan, write the page, print the table. */
export async function planCommand(request: PlanRequest): Promise<void> {
  const asked = await readOptions(commandOptions.plan, request.typed, request);
  writeNotes(asked.notes);
  const reader = commandReaderFor(asked);
  const out = request.out ?? asked.out ?? ".";
  const { planPage } = await import("../6-report/pages/plan-page.js");
  const { plan } = await import("../sweep/plan/plan.js");
  const photo = request.photo === undefined ? undefined : await readInputFile(request.photo, "photo");
  await checkFolder(out);
  const progress = createCounter(process.stderr, "densities");
  const pictures: DetailPicture[] = [];
  try {
    const made = await plan(asked.options, photo, {
      ...(request.photo !== undefined && { fileName: basename(request.photo) }),
      reader,
      onProgress: progress.show,
      onPicture(row, picture) {
        pictures[row] = picture;
      },
      curves: createCurveFolder(),
    });
    const files = await openOutputSet(out, [PAGE]);
    const next = nextCommand(made, request);
    const powerTest = findPowerCommand(made, request);
    await files.write(PAGE, await planPage(made, next, { pictures, powerTest, reader }));
    const written = await files.complete();
    progress.clear();
    print(request.json ? reportJson(made) : `${planTable(made, written, { next, powerTest })}\n`);
  } finally {
    progress.clear();
  }
}
