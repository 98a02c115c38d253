/** Multiples of the matched density that a plan tries by default. They lie closest where the choice is hard. */
const LADDER = [0.5, 0.75, 1, 1.15, 1.35, 2, 3, 5] as const;

/**
 * Densities to compare, in whole lines per inch, rising from half to five times the matched one. The matched density itself
 * is rounded up, so that its lines still touch.
 *
 * @param min, max limits of the densities
 */
export function densityLadder(matchedLinesPerInch: number, min: number, max: number): number[] {
  const rungs = LADDER.map((multiple) => {
    const density = multiple * matchedLinesPerInch;
    return multiple === 1 ? Math.ceil(density - 1e-9) : Math.round(density);
  });
  return [...new Set(rungs.map((density) => Math.min(max, Math.max(min, density))))];
}
