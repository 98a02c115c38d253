import { MAX_LINES_PER_INCH } from "./density-limits.js";
import { linesPerInchFromPitchMm, MM_PER_INCH } from "./units.js";

/** Lines to a spot of a test card: every other line is then an even half dose (ripple 1.4 %). */
export const BEST_LINES_PER_SPOT = 4;
/** A density of whole lines per inch, or one that a machine offers, is only nearly four lines to a spot. */
const NEARLY = 0.95;
/** Below it the smallest patches have too few pixels for the patterns: 24 in 1.8 mm. */
const LEAST_LINES_PER_INCH = MM_PER_INCH / (1.8 / 24);

/** Why a card has its density. */
export type CardDensityReason =
  | "given"
  /** Four lines to the spot; or, for a large spot, as many as the patterns need. */
  | "computed"
  /** The smallest one offered that is fine enough. */
  | "smallest-offered"
  /** None that is offered is fine enough. */
  | "largest-offered";

export interface CardDensity {
  readonly linesPerInch: number;
  readonly reason: CardDensityReason;
}

/** Whether a card has lines enough to a spot. */
export const hasLinesEnough = (linesPerSpot: number): boolean => linesPerSpot >= BEST_LINES_PER_SPOT * NEARLY;

/**
 * The density of a test card for a spot, if nobody gives one: four lines to the spot in whole lines per inch, or the nearest to it
 * that the machine offers.
 */
export function cardDensity(spotAcrossMm: number, offered: readonly number[] = []): CardDensity {
  const wanted = Math.max(BEST_LINES_PER_SPOT * linesPerInchFromPitchMm(spotAcrossMm), LEAST_LINES_PER_INCH);
  if (offered.length === 0) {
    return { linesPerInch: Math.min(MAX_LINES_PER_INCH, Math.ceil(wanted - 1e-9)), reason: "computed" };
  }
  const fine = offered.filter((each) => each >= wanted * NEARLY);
  return fine.length > 0
    ? { linesPerInch: Math.min(...fine), reason: "smallest-offered" }
    : { linesPerInch: Math.max(...offered), reason: "largest-offered" };
}
