/** Multiples of the matched density that a plan tries by default. They lie closest where the choice is hard. */
const LADDER = [0.5, 0.75, 1, 1.15, 1.35, 2, 3, 5] as const;

/** Densities closer than this ratio to a usual one would only compete with it. */
const NEAR = 1.25;

const isNear = (a: number, b: number): boolean => Math.max(a / b, b / a) < NEAR;

/**
 * Densities to compare, in whole lines per inch, rising from half to five times the matched one. The matched density itself
 * is rounded up, so that its lines still touch.
 *
 * @param min, max limits of the densities
 * @param usual a density of the caller's, in place of those near it
 */
export function densityLadder(
  matchedLinesPerInch: number,
  min: number,
  max: number,
  usual?: number,
): number[] {
  const rungs = LADDER.map((multiple) => {
    const density = multiple * matchedLinesPerInch;
    return multiple === 1 ? Math.ceil(density - 1e-9) : Math.round(density);
  });
  const others = usual === undefined ? rungs : rungs.filter((rung) => !isNear(rung, usual));
  const all = [...others, ...(usual === undefined ? [] : [usual])].sort((a, b) => a - b);
  return [...new Set(all.map((density) => Math.min(max, Math.max(min, density))))];
}
