import { cardLayout } from "../../src/7-card/layout.js";
import { patternName, patternTile } from "../../src/7-card/patterns.js";
import type { CardPattern } from "../../src/core/card-pattern.js";
import type { PatternTile } from "../../src/core/pattern-tile.js";
import { MM_PER_INCH } from "../../src/core/units.js";

export interface NamedTile {
  readonly id: string;
  readonly tile: PatternTile;
}

export const named = (pattern: CardPattern): NamedTile => ({
  id: patternName(pattern),
  tile: patternTile(pattern, 2),
});

/** A pattern of a card, and the number of places that show it. */
export interface RepeatedTile extends NamedTile {
  readonly repeats: number;
}

/** A card of the product. */
export interface CardSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The patterns of a card of that size, bare and solid references among them, on a machine without power levels. */
export function patternsOf(size: CardSize, pitchMm: number): RepeatedTile[] {
  const linesPerInch = MM_PER_INCH / pitchMm;
  const { patches } = cardLayout({
    ...size,
    ...{ linesPerInch, linesPerInchAlong: linesPerInch },
    ...{ levels: 2, seed: 1, oneWay: false },
  });
  const patterns = new Map(patches.map(({ pattern }) => [patternName(pattern), pattern]));
  return [...patterns].map(([id, pattern]) => ({
    ...named(pattern),
    repeats: patches.filter((patch) => patternName(patch.pattern) === id).length,
  }));
}
