import type { PatternTile } from "../core/pattern-tile.js";
import type { Pitch } from "../core/plane.js";

/** A place of the card that shows a pattern, and what was read there. */
export interface MeasuredPlace {
  readonly xMm: number;
  readonly yMm: number;
  /** Mean luminance factor. */
  readonly luminance: number;
}

/** A pattern and all places that show it. */
export interface MeasuredPattern {
  readonly id: string;
  /** Its first row is burned in the direction of even lines wherever the pattern stands. */
  readonly tile: PatternTile;
  /** Power of its card over that of the first card; 1 on the first. */
  readonly doseFactor: number;
  readonly places: readonly MeasuredPlace[];
}

/** What was read of a test card. */
export interface MeasuredCard {
  readonly pitch: Pitch;
  /** Number of power levels of the codes; 2 for on and off. */
  readonly levels: number;
  readonly speedMmPerS: number;
  readonly oneWay: boolean;
  readonly patterns: readonly MeasuredPattern[];
}
