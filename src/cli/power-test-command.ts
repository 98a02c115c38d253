import { reportJson } from "../6-report/files/report-json.js";
import { powerTestPage } from "../6-report/pages/power-test-page.js";
import type { PowerTest } from "../6-report/power-test.js";
import { sizeWords } from "../core/shown-units.js";
import { densityWords } from "../core/words.js";
import { powerTest } from "../pipeline/power-test.js";
import { commandReaderFor } from "./command-reader.js";
import { commandOptions } from "./flags.js";
import { row } from "./labelled-row.js";
import { checkFolder, openOutputSet } from "./output-files.js";
import { readOptions, writeNotes } from "./read-options.js";
import type { PhotoRequest } from "./request.js";
import { print } from "./terminal.js";
import { toDoRows } from "./what-to-do.js";

const PAGE = "power-test.html";

/** `spotpitch power-test`: write the patch and the page, print what to do. */
export async function powerTestCommand(request: Omit<PhotoRequest, "photo">): Promise<void> {
  const asked = await readOptions(commandOptions["power-test"], request.typed, request);
  writeNotes(asked.notes);
  const out = request.out ?? asked.out ?? ".";
  await checkFolder(out);
  const { burnFile, test } = await powerTest(asked.options, commandReaderFor(asked));
  const patch = `power-test.burn.${asked.options.format ?? "png"}`;
  const files = await openOutputSet(out, [patch, PAGE]);
  await files.write(patch, burnFile);
  await files.write(PAGE, powerTestPage(test));
  const written = await files.complete();
  print(request.json ? reportJson(test) : `${testWords(test, written)}\n`);
}

/** What to do, for a terminal. */
function testWords(test: PowerTest, files: readonly string[]): string {
  const { job, units, steps, notes, giveAs, cautions } = test;
  return [
    row(
      "patch",
      `${sizeWords(job, units)} solid on ${job.material}, ${densityWords(job.linesPerInch)} lines per inch`,
    ),
    ...toDoRows({
      afterwards: `${giveAs}, with your percent in place of 40: reports and plans name the percent to set`,
      ...{ steps, notes, files, cautions },
    }),
  ].join("\n");
}
