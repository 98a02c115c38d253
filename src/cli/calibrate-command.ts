import { basename, join } from "node:path";
import type { Calibration } from "../6-report/calibration.js";
import { reportJson } from "../6-report/files/report-json.js";
import { calibrationPage } from "../6-report/pages/calibration-page.js";
import { changeWords, responseChangeWords } from "../6-report/words/calibration-changes.js";
import { figureWords } from "../6-report/words/calibration-words.js";
import { cardLine, cardRows, spreadWords } from "../6-report/words/spread-words.js";
import { calibrate } from "../pipeline/calibration/calibrate.js";
import { recipeOfCode } from "../pipeline/calibration/card-reading.js";
import { recipeFault } from "../pipeline/calibration/recipe-fault.js";
import { commandReaderFor } from "./command-reader.js";
import { commandOptions } from "./flags.js";
import { readInputFile, readJsonFile } from "./input-files.js";
import { row } from "./labelled-row.js";
import { checkFolder, openOutputSet } from "./output-files.js";
import { quoted } from "./quoted.js";
import { readOptions, writeNotes } from "./read-options.js";
import { refused } from "./refusals.js";
import type { PhotoRequest } from "./request.js";
import { print } from "./terminal.js";
import { writeToneCheck } from "./tone-check-command.js";

interface CalibrateRequest extends Omit<PhotoRequest, "photo"> {
  readonly pictures: readonly string[];
  /** The recipe, `card.json`. */
  readonly card: string | undefined;
  /** Whether the pictures show a check card. */
  readonly check: boolean;
}

const JSON_NAME = "calibrate.json";
const PAGE_NAME = "calibrate.html";

/** `spotpitch calibrate`: read pictures of a card, write what they taught. */
export async function calibrateCommand(request: CalibrateRequest): Promise<void> {
  const asked = await readOptions(commandOptions.calibrate, request.typed, request);
  writeNotes(asked.notes);
  const out = request.out ?? asked.out ?? ".";
  const pictures = [];
  for (const path of request.pictures) {
    pictures.push({ bytes: await readInputFile(path, "picture"), fileName: basename(path) });
  }
  await checkFolder(out);
  const reader = commandReaderFor(asked);
  if (request.check) {
    writeNotes(idleNotes(request.typed));
    await writeToneCheck(pictures, { ...request, out, reader });
    return;
  }
  const recipe = request.card === undefined ? undefined : await readRecipe(request.card);
  const { calibration, material, machine, straightenedFile } = await calibrate(pictures, asked.options, {
    reader,
    recipe,
  });
  const { name } = material;
  const names = { material: `${name}.material.json`, machine: `${name}.machine.json` };
  const layout = recipeOfCode(calibration.card);
  const next = nextSteps(names, out);
  const page = await calibrationPage(
    name,
    calibration,
    { file: straightenedFile, ...layout, areas: layout.patches },
    next,
  );
  const files = await openOutputSet(out, [...Object.values(names), JSON_NAME, PAGE_NAME]);
  await files.write(names.material, json(material));
  await files.write(names.machine, json(machine));
  await files.write(JSON_NAME, reportJson(calibration));
  await files.write(PAGE_NAME, page);
  const written = await files.complete();
  print(request.json ? reportJson(calibration) : `${calibrationWords(calibration, written, next)}\n`);
}

/** Options that were typed in vain: what a check card should show stands in its card.json. */
const idleNotes = (typed: ReadonlyMap<string, unknown>): string[] =>
  Array.from(
    typed.keys(),
    (name) => `--${name} has no effect with --check: card.json says what the tones should be.`,
  );

async function readRecipe(path: string): Promise<{ readonly code: string }> {
  const content = await readJsonFile(path, "recipe of a card");
  const fault = recipeFault(content);
  if (fault !== undefined) {
    throw refused.unusable(
      "recipe of a card",
      path,
      `${fault}. Give the card.json as "spotpitch card" wrote it`,
    );
  }
  return { code: Reflect.get(Object(content), "code") };
}

const json = (value: unknown): string => `${JSON.stringify(value, undefined, 2)}\n`;

const nextSteps = (names: { readonly material: string; readonly machine: string }, out: string): string[] => [
  `Use the material for every job on it: --material ${quoted(join(out, names.material))}.`,
  `Keep the machine once, then no command needs to be told its spot: npx spotpitch machine ${quoted(join(out, names.machine))}.`,
  `See whether they hold: npx spotpitch card --check your-photo.jpg --material ${quoted(join(out, names.material))} --machine ${quoted(join(out, names.machine))}, engrave it, and read its picture with npx spotpitch calibrate --check.`,
];

function calibrationWords(
  calibration: Calibration,
  files: readonly string[],
  next: readonly string[],
): string {
  const { pictures, patches, response, warnings } = calibration;
  const [bare, solid] = [response[0], response[response.length - 1]];
  return [
    row(
      "card",
      `${calibration.card}; ${patches.length} patches from ${pictures.map(({ file }) => file).join(", ")}`,
    ),
    row(
      "response",
      `luminance factor ${bare.luminance.toFixed(3)} bare, ${solid.luminance.toFixed(3)} at dose ${solid.dose.toFixed(2)}`,
    ),
    row("against", responseChangeWords(calibration)),
    row("spots touch", figureWords(calibration.closingLinesPerInch, " lines per inch", 0)),
    ...changeWords(calibration).map(({ name, now, before, change, sure }) =>
      row(name, `${now} (before ${before}): ${change}; ${sure}`),
    ),
    ...spreadWords(calibration.spread).map(([name, words]) => row("varies", `${name}: ${words}`)),
    ...(calibration.cards.length > 1 ? cardRows(calibration).map((card) => row("card", cardLine(card))) : []),
    ...warnings.map(({ message }) => row("note", message)),
    ...calibration.settings.map((each) => row("set", each)),
    ...files.map((file) => row("wrote", file)),
    ...next.map((step, k) => row(k === 0 ? "next" : "", step)),
    ...calibration.next.map((each, k) => row(k === 0 ? "surer" : "", each)),
  ].join("\n");
}
