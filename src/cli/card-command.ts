import type { TestCard } from "../6-report/card.js";
import { reportJson } from "../6-report/files/report-json.js";
import { testCardPage } from "../6-report/pages/card-page.js";
import { cardDensityInShort } from "../6-report/words/card-words.js";
import { sizeWords } from "../core/shown-units.js";
import { durationWords, wholePercent } from "../core/words.js";
import { cardTable } from "../options/card-options.js";
import { checkTable } from "../options/check-options.js";
import { testCard } from "../pipeline/card.js";
import { type CardRequest, PHOTOGRAPH, writeCard } from "./card-files.js";
import { writeCheckCard } from "./check-card-command.js";
import { commandReaderFor } from "./command-reader.js";
import { commandOptions, flagName } from "./flags.js";
import { row } from "./labelled-row.js";
import { calibrateCommandWords } from "./next-command.js";
import { checkFolder } from "./output-files.js";
import { readOptions, writeNotes } from "./read-options.js";
import { print } from "./terminal.js";
import { toDoRows } from "./what-to-do.js";

/** `spotpitch card`: write the bitmap, its recipe, a preview and the page, print what to do. */
export async function cardCommand(request: CardRequest): Promise<void> {
  const asked = await readOptions(commandOptions.card, request.typed, request);
  const isCheck = request.check !== false;
  writeNotes([...asked.notes, ...idleNotes(request.typed, isCheck)]);
  const out = request.out ?? asked.out ?? ".";
  await checkFolder(out);
  const reader = commandReaderFor(asked);
  if (isCheck) {
    await writeCheckCard(only(asked.options, checkTable), { request, out, reader });
    return;
  }
  const { burnFile, previewFile, recipeFile, card } = await testCard(only(asked.options, cardTable), reader);
  const next = calibrateCommandWords(request);
  const page = testCardPage(card, previewFile, next);
  const written = await writeCard(out, { burnFile, previewFile, recipeFile, page });
  print(request.json ? reportJson(card) : `${cardWords(card, written, next)}\n`);
}

/** The options that a kind of card takes. */
const only = (options: object, table: object): object =>
  Object.fromEntries(Object.entries(options).filter(([name]) => name in table));

/** What was typed in vain. */
function idleNotes(typed: ReadonlyMap<string, unknown>, isCheck: boolean): string[] {
  const table = isCheck ? checkTable : cardTable;
  return commandOptions.card.flags
    .filter((flag) => typed.has(flagName(flag)) && !(flag.option in table))
    .map((flag) =>
      isCheck
        ? `--${flagName(flag)} has no effect with --check.`
        : `--${flagName(flag)} has no effect on a test card: it is for --check.`,
    );
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
    ...toDoRows({ steps, afterwards: PHOTOGRAPH, next, notes, files, cautions }),
  ].join("\n");
}
