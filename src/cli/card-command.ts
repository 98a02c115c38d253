import type { TestCard } from "../6-report/card.js";
import { reportJson } from "../6-report/files/report-json.js";
import { testCardPage } from "../6-report/pages/card-page.js";
import { cardDensityInShort } from "../6-report/words/card-words.js";
import { cautionsInShort } from "../core/material/cautions.js";
import { sizeWords } from "../core/shown-units.js";
import { durationWords, wholePercent } from "../core/words.js";
import { testCard } from "../pipeline/card.js";
import { commandReaderFor } from "./command-reader.js";
import { commandOptions } from "./flags.js";
import { row } from "./labelled-row.js";
import { calibrateCommandWords } from "./next-command.js";
import { checkFolder, openOutputSet } from "./output-files.js";
import { readOptions, writeNotes } from "./read-options.js";
import type { PhotoRequest } from "./request.js";

const FILES = {
  burn: "card.burn.png",
  preview: "card.preview.png",
  recipe: "card.json",
  page: "card.html",
} as const;

/** `spotpitch card`: write the bitmap, its recipe, a preview and the page, print what to do. */
export async function cardCommand(request: Omit<PhotoRequest, "photo">): Promise<void> {
  const asked = await readOptions(commandOptions.card, request.typed, request);
  writeNotes(asked.notes);
  const out = request.out ?? asked.out ?? ".";
  await checkFolder(out);
  const { burnFile, previewFile, recipeFile, card } = await testCard(asked.options, commandReaderFor(asked));
  const next = calibrateCommandWords(request);
  const files = await openOutputSet(out, Object.values(FILES));
  await files.write(FILES.burn, burnFile);
  await files.write(FILES.preview, previewFile);
  await files.write(FILES.recipe, recipeFile);
  await files.write(FILES.page, testCardPage(card, previewFile, next));
  const written = await files.complete();
  process.stdout.write(request.json ? reportJson(card) : `${cardWords(card, written, next)}\n`);
}

/** What to do, for a terminal. */
function cardWords(card: TestCard, files: readonly string[], next: string): string {
  const { job, contents, runTime, units, steps, notes, cautions } = card;
  return [
    row("card", `${sizeWords(job, units)} on ${job.material}`),
    row("density", cardDensityInShort(job)),
    row(
      "holds",
      `${contents.patches} patches: ${contents.patterns} patterns, each ${contents.repeats} times or more, ${contents.bareReferences} bare and ${contents.solidReferences} solid`,
    ),
    row("run time", `about ${durationWords(runTime.seconds)}; ${wholePercent(contents.burnFraction)} burns`),
    ...steps.map((step, k) => row(`step ${k + 1}`, step)),
    row("then", "take its picture as told on the page"),
    row("next", next),
    ...notes.map((note) => row("note", note)),
    ...files.map((file) => row("wrote", file)),
    "",
    "Cautions:",
    ...cautionsInShort(cautions, "page").map((caution) => `  - ${caution}`),
  ].join("\n");
}
