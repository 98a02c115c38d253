/**
 * Variation of a machine in four parts, as relative standard deviations (0.04 is 4 %). The defaults are from memory: common
 * practice, no source.
 */
export interface Spread {
  /** Dose of the whole piece, against the power that was meant. */
  readonly common: number;
  /** ln dose from place to place: focus, flatness, heat, grain. */
  readonly local: number;
  /** ℓ of the correlation exp(−(r/ℓ)²) of the local part, in mm. */
  readonly localLengthMm: number;
  /** Dose of each line for itself. */
  readonly line: number;
  /** Diameter of the spot of the whole piece: focus. */
  readonly spot: number;
}

export const DEFAULT_SPREAD: Spread = { common: 0.08, local: 0.04, localLengthMm: 2, line: 0.04, spot: 0.05 };

/** The largest of the parts but the length, and limits of the length in mm. */
export const MAX_SPREAD_PART = 0.25;
export const LOCAL_LENGTH_LIMITS_MM = [0.1, 100] as const;

/** Half-width s of three equal weights 1 − s, 1, 1 + s over their standard deviation: √(3/2). */
const HALF_WIDTH_PER_DEVIATION = Math.sqrt(1.5);

/** The common part as a dose spread ±s of three equal weights, and back: ±10 % is a standard deviation of 8.2 %. */
export const doseSpreadOf = ({ common }: Pick<Spread, "common">): number => common * HALF_WIDTH_PER_DEVIATION;
export const commonFromDoseSpread = (doseSpread: number): number => doseSpread / HALF_WIDTH_PER_DEVIATION;

/** A part by which the dose varies within a piece, and its standard deviation. */
export interface DoseWithin {
  readonly part: "local" | "line";
  readonly deviation: number;
}

/** The larger of the two parts by which the dose varies within a piece. */
export const largestWithin = ({ local, line }: Pick<Spread, "local" | "line">): DoseWithin =>
  line > local ? { part: "line", deviation: line } : { part: "local", deviation: local };
