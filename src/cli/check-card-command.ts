import { basename, join } from "node:path";
import type { CheckCard } from "../6-report/check.js";
import { reportJson } from "../6-report/files/report-json.js";
import { checkCardPage } from "../6-report/pages/check-card-page.js";
import type { Reader } from "../core/reader.js";
import { sizeWords } from "../core/shown-units.js";
import { densityWords, durationWords, wholePercent } from "../core/words.js";
import type { CheckCardOptions } from "../options/check-options.js";
import { checkCard } from "../pipeline/check/check-card.js";
import { CARD_FILES, type CardRequest, PHOTOGRAPH, writeCard } from "./card-files.js";
import { readInputFile } from "./input-files.js";
import { row } from "./labelled-row.js";
import { quoted } from "./quoted.js";
import { print } from "./terminal.js";
import { toDoRows } from "./what-to-do.js";

/** What a check card is written with. */
interface CheckCardAsked {
  readonly request: CardRequest;
  readonly out: string;
  readonly reader: Reader;
}

/** `spotpitch card --check`: write the bitmap, what its tones should be, a preview and the page, print what to do. */
export async function writeCheckCard(
  options: CheckCardOptions,
  { request, out, reader }: CheckCardAsked,
): Promise<void> {
  const { check } = request;
  const photo =
    typeof check === "string"
      ? { photo: await readInputFile(check, "photo"), fileName: basename(check) }
      : undefined;
  const { burnFile, previewFile, recipeFile, card } = await checkCard(options, { ...photo, reader });
  const next = checkCommandWords(request);
  const page = checkCardPage(card, previewFile, next);
  const written = await writeCard(out, { burnFile, previewFile, recipeFile, page });
  print(request.json ? reportJson(card) : `${checkCardWords(card, written, next)}\n`);
}

/** The command that reads a picture of the card. */
function checkCommandWords({ out }: CardRequest): string {
  const folder = out === undefined ? "" : ` --out ${quoted(out)}`;
  const recipe = out === undefined ? CARD_FILES.recipe : join(out, CARD_FILES.recipe);
  return `npx spotpitch calibrate --check your-picture.jpg --card ${quoted(recipe)}${folder}`;
}

/** What to do, for a terminal. */
function checkCardWords(card: CheckCard, files: readonly string[], next: string): string {
  const { job, runTime, burnFraction, tones, units, steps, notes, cautions } = card;
  return [
    row(
      "check card",
      `${sizeWords(job, units)} on ${job.material}, ${densityWords(job.linesPerInch)} lines per inch, ${job.method}`,
    ),
    row("holds", `${tones.length - 1} tones between bare and solid, and a small picture`),
    row("run time", `about ${durationWords(runTime.seconds)}; ${wholePercent(burnFraction)} burns`),
    ...toDoRows({ steps, afterwards: PHOTOGRAPH, next, notes, files, cautions }),
  ].join("\n");
}
