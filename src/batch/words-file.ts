import { listWords } from "../core/words.js";
import { DECIMAL_POINT, placeholders } from "../pipeline/triage/customer-texts.js";
import { type CustomerTexts, englishWords } from "./customer-note.js";

/** The English words as a file to edit and translate. */
export const englishWordsJson = (): string => `${JSON.stringify(englishWords, null, 2)}\n`;

/**
 * The words of a shop, or all faults of its file, each with its key. Every text must have the names in braces of the English one: a figure
 * that is forgotten or misspelt would be noticed by a customer first.
 */
export function checkWords(
  value: unknown,
): { readonly words: CustomerTexts } | { readonly faults: string[] } {
  if (!isTexts(value)) return { faults: ["it must hold one object of keys and texts"] };
  const keys = Object.keys(englishWords) as (keyof CustomerTexts)[];
  const faults = [
    ...Object.keys(value)
      .filter((key) => !Object.hasOwn(englishWords, key))
      .map((key) => `there is no key "${key}"`),
    ...keys.flatMap((key) => faultOf(key, value[key])),
  ];
  return faults.length > 0 ? { faults } : { words: value as CustomerTexts };
}

const isTexts = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function faultOf(key: keyof CustomerTexts, text: unknown): string[] {
  if (text === undefined) return [`"${key}" is missing`];
  if (typeof text !== "string" || text.trim() === "") return [`"${key}" must be a text`];
  if (key === DECIMAL_POINT) return text === "." || text === "," ? [] : [`"${key}" must be "." or ","`];
  const [given, wanted] = [placeholders(text), placeholders(englishWords[key])];
  const braces = (names: readonly string[]): string =>
    listWords(
      names.map((name) => `{${name}}`),
      "and",
    );
  const [missing, strange] = [
    [...wanted].filter((name) => !given.has(name)),
    [...given].filter((name) => !wanted.has(name)),
  ];
  const allowed = wanted.size > 0 ? `allowed there: ${braces([...wanted])}` : "none is allowed there";
  return [
    ...(missing.length > 0 ? [`"${key}" lacks ${braces(missing)}`] : []),
    ...(strange.length > 0 ? [`"${key}" has ${braces(strange)}, ${allowed}`] : []),
  ];
}
