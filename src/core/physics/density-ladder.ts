/** Multiples of the matched density that a plan tries where nobody says what the machine offers: closest where the choice is hard. */
const LADDER = [0.5, 0.75, 1, 1.15, 1.35, 2, 3, 5] as const;

/**
 * Densities to compare, in whole lines per inch, rising: from half to five times the matched one, which is among them,
 * rounded up so that its lines still touch.
 *
 * @param least, most what may be asked for
 */
export function densityLadder(matchedLinesPerInch: number, least: number, most: number): number[] {
  const rungs = LADDER.map((multiple) => {
    const density = multiple * matchedLinesPerInch;
    return multiple === 1 ? Math.ceil(density - 1e-9) : Math.round(density);
  });
  return [...new Set(rungs.map((density) => Math.min(most, Math.max(least, density))))];
}
