import type { PatternTile } from "../core/pattern-tile.js";
import type { Pitch } from "../core/plane.js";

/** A place of the card that shows a pattern, and what was read there. */
export interface MeasuredPlace {
  readonly xMm: number;
  readonly yMm: number;
  /** Mean luminance factor. */
  readonly luminance: number;
}

/** How a card was burned. */
export interface CardBurn {
  readonly pitch: Pitch;
  /** Number of power levels of the codes; 2 for on and off. */
  readonly levels: number;
  readonly speedMmPerS: number;
  readonly oneWay: boolean;
}

/** A further card that is fitted together with the first. */
export interface OtherCard extends CardBurn {
  /** Its place in the list of cards: 1 for the second. */
  readonly place: number;
  /** Whether `doseFactor` of its patterns is meant to be right; otherwise it is a guess. */
  readonly isDoseKnown: boolean;
}

/** A pattern and all places that show it. */
export interface MeasuredPattern {
  readonly id: string;
  /** Its first row is burned in the direction of even lines wherever the pattern stands. */
  readonly tile: PatternTile;
  /** Meant dose of a solid patch of its card over that of the first card; 1 on the first. */
  readonly doseFactor: number;
  /** Its card; absent for the first. */
  readonly other?: OtherCard;
  readonly places: readonly MeasuredPlace[];
}

/** What was read of a test card, or of several: then it was burned as the first of them. */
export interface MeasuredCard extends CardBurn {
  /** False if nobody knows its dose against that of the first card, as at another density or speed. */
  readonly isDoseKnown?: boolean;
  readonly patterns: readonly MeasuredPattern[];
}

/** Patterns and patches of further cards are named after their card: `2:solid`. */
export const patternIdOn = (card: number, id: string): string => (card === 0 ? id : `${card + 1}:${id}`);

/** Cards of one material and one machine as one. */
export function joinedCards([first, ...others]: readonly MeasuredCard[]): MeasuredCard {
  const patternsOf = (
    { patterns, isDoseKnown = true, ...burn }: MeasuredCard,
    k: number,
  ): MeasuredPattern[] =>
    patterns.map((pattern) => ({
      ...pattern,
      id: patternIdOn(k + 1, pattern.id),
      other: { ...burn, isDoseKnown, place: k + 1 },
    }));
  return { ...first, patterns: [...first.patterns, ...others.flatMap(patternsOf)] };
}

/** Cards after the first. */
export const otherCards = ({ patterns }: MeasuredCard): OtherCard[] => {
  const places = new Map(patterns.flatMap(({ other }) => (other ? [[other.place, other] as const] : [])));
  return [...places.values()].sort((a, b) => a.place - b.place);
};
