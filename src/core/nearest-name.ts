import { listWords } from "./words.js";

const MAX_NAMES = 4;
/** Shortest text that is looked for inside names. */
const MIN_PART_LENGTH = 3;

/** A typed name in the spelling of presets and methods: lower case, hyphens between words. */
export const hyphenated = (name: string): string =>
  name
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, "-");

/**
 * Known names that a mistyped one may mean, at most four: those with the fewest typing errors (a letter missing, added, changed
 * or swapped; no more than one error per three letters). If there are none, names that contain it: "floyd" finds
 * "floyd-steinberg".
 */
export function nearestNames(typed: string, names: readonly string[]): string[] {
  const wanted = hyphenated(typed);
  const mostErrors = Math.max(1, Math.floor(wanted.length / 3));
  const errors = names.map((name) => {
    // Each letter too many or too few is an error. A text of any length would be compared otherwise.
    const isComparable = Math.abs(name.length - wanted.length) <= mostErrors;
    return isComparable ? typingErrors(wanted, name) : Number.POSITIVE_INFINITY;
  });
  const min = Math.min(...errors);
  if (min <= mostErrors && min < wanted.length) {
    return names.filter((_, i) => errors[i] === min).slice(0, MAX_NAMES);
  }
  if (wanted.length < MIN_PART_LENGTH) return [];
  return names.filter((name) => `-${name}`.includes(`-${wanted}`)).slice(0, MAX_NAMES);
}

/** ` Did you mean maple?`, to append to a sentence. Empty if no name is near. */
export const didYouMean = (typed: string, names: readonly string[]): string =>
  didYouMeanOneOf(nearestNames(typed, names));

/** The same for names that are near already. */
export function didYouMeanOneOf(near: readonly string[]): string {
  if (near.length === 0) return "";
  return ` Did you mean ${listWords(near, "or")}?`;
}

/** Optimal string alignment distance: Damerau, "A technique for computer detection and correction of spelling errors", 1964. */
function typingErrors(a: string, b: string): number {
  let twoBack: number[] = [];
  let before = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const changed = before[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      row[j] = Math.min(changed, before[j] + 1, row[j - 1] + 1);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) row[j] = Math.min(row[j], twoBack[j - 2] + 1);
    }
    twoBack = before;
    before = row;
  }
  return before[b.length];
}
