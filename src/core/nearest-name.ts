const MOST_NAMES = 4;
const LEAST_PART = 3;

/**
 * Names that a mistyped one may stand for, best first, four at most: those with the fewest slips (letters left out, added,
 * changed or swapped; one for every three letters at most), else those of which it is a part ("floyd" of "floyd-steinberg").
 */
export function nearestNames(typed: string, names: readonly string[]): string[] {
  const wanted = typed
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, "-");
  const slips = names.map((name) => slipsBetween(wanted, name));
  const least = Math.min(...slips);
  if (least <= Math.max(1, Math.floor(wanted.length / 3)) && least < wanted.length) {
    return names.filter((_, i) => slips[i] === least).slice(0, MOST_NAMES);
  }
  if (wanted.length < LEAST_PART) return [];
  return names.filter((name) => `-${name}`.includes(`-${wanted}`)).slice(0, MOST_NAMES);
}

/** ` Did you mean maple?`, to be put behind a sentence; empty where no name is near. */
export function didYouMean(typed: string, names: readonly string[]): string {
  const near = nearestNames(typed, names);
  if (near.length === 0) return "";
  const last = near[near.length - 1];
  return ` Did you mean ${near.length === 1 ? last : `${near.slice(0, -1).join(", ")} or ${last}`}?`;
}

/** Optimal string alignment distance: Damerau, "A technique for computer detection and correction of spelling errors", 1964. */
function slipsBetween(a: string, b: string): number {
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
