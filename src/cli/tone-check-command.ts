import { basename } from "node:path";
import type { ToneCheck } from "../6-report/check.js";
import { reportJson } from "../6-report/files/report-json.js";
import { toneCheckPage } from "../6-report/pages/tone-check-page.js";
import { stepName } from "../6-report/words/tone-check-words.js";
import { lightnessFromLuminance } from "../core/physics/lightness.js";
import type { Reader } from "../core/reader.js";
import type { CardPicture } from "../pipeline/calibration/calibrate.js";
import { checkTones } from "../pipeline/check/check-tones.js";
import { readJsonFile } from "./input-files.js";
import { row } from "./labelled-row.js";
import { openOutputSet } from "./output-files.js";
import { refused } from "./refusals.js";
import { print } from "./terminal.js";

const FILES = { json: "check.json", page: "check.html" } as const;

/** What a check is made with. */
interface ToneCheckAsked {
  /** The card.json of the check card, if it was given. */
  readonly card: string | undefined;
  readonly out: string;
  readonly json: boolean;
  readonly reader: Reader;
}

/** `spotpitch calibrate --check`: read pictures of a check card, tell whether its tones came out. */
export async function writeToneCheck(
  pictures: readonly CardPicture[],
  { card, out, json, reader }: ToneCheckAsked,
): Promise<void> {
  if (card === undefined) throw refused.checkWithoutRecipe();
  const recipe = await readJsonFile(card, "recipe of a card");
  const context = { recipeName: basename(card), reader };
  const { check, places, straightenedFile } = await checkTones(pictures, recipe, context);
  const page = await toneCheckPage(check, { file: straightenedFile, ...places, areas: places.patches });
  const files = await openOutputSet(out, Object.values(FILES));
  await files.write(FILES.json, reportJson(check));
  await files.write(FILES.page, page);
  const written = await files.complete();
  print(json ? reportJson(check) : `${toneCheckWords(check, written)}\n`);
}

function toneCheckWords(check: ToneCheck, files: readonly string[]): string {
  const { card, pictures, outcome, steps, advice, notes } = check;
  return [
    row("check card", `${card}, from ${pictures.map(({ file }) => file).join(", ")}`),
    row("outcome", outcome),
    ...steps.map((step) => row(stepName(step), stepWords(step))),
    ...advice.map((each, k) => row(k === 0 ? "to do" : "", each)),
    ...notes.map((note) => row("note", note)),
    ...files.map((file) => row("wrote", file)),
  ].join("\n");
}

const VERDICTS = { within: "as predicted", "too-dark": "too dark", "too-light": "too light" } as const;

function stepWords({
  wanted,
  predicted,
  measured,
  difference,
  tolerance,
  verdict,
}: ToneCheck["steps"][number]): string {
  const [asked, said, seen] = [wanted, predicted, measured].map((each) =>
    lightnessFromLuminance(each).toFixed(1),
  );
  const by = `${difference < 0 ? "−" : "+"}${Math.abs(difference).toFixed(1)}`;
  return `L* ${asked} asked for, ${said} predicted, ${seen} measured: ${by}, ${VERDICTS[verdict]} (band ± ${tolerance.toFixed(1)})`;
}
