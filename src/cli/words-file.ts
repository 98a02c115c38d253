import type { CustomerTexts } from "../batch/customer-note.js";
import { checkWords, englishWordsJson } from "../batch/words-file.js";
import { readJsonFile } from "./input-files.js";
import { refused } from "./refusals.js";
import { print } from "./terminal.js";

/** As many faults of a file are told at once. */
const FAULTS = 5;

/** Read a shop's words to customers. Throws `INPUT_MISSING`, `INPUT_UNREADABLE`, `INPUT_CONFIG_INVALID`. */
export async function readWords(path: string): Promise<CustomerTexts> {
  const checked = checkWords(await readJsonFile(path, "words file"));
  if ("words" in checked) return checked.words;
  const { faults } = checked;
  const more = faults.length > FAULTS ? `; and ${faults.length - FAULTS} more` : "";
  throw refused.unusable("words file", path, `${faults.slice(0, FAULTS).join("; ")}${more}`);
}

/** `spotpitch words`: print the English words to customers, or check a shop's. */
export async function wordsCommand(file: string | undefined): Promise<void> {
  if (file !== undefined) await readWords(file);
  print(file === undefined ? englishWordsJson() : `${file} is complete.\n`);
}
