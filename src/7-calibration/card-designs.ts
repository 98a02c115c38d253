import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import type { MeasuredCard, MeasuredPattern } from "./card.js";
import { type BurnedPattern, patternDoses, periodRows } from "./pattern-doses.js";
import { type ResponseBasis, splineMeans } from "./response-basis.js";
import { beamOnOther, type TrialBeam } from "./trial-beam.js";

/** Cells of the response. Steep materials change within a fifth of the range. */
const CELLS = 26;

/** Places at which a dose is asked are no further apart than this many standard deviations of the starting spot. */
const MOST_SIGMAS_APART = 0.4;

/** What a beam makes of the patterns of a card: the part of the model that is linear in the response. */
export interface CardDesign {
  readonly basis: ResponseBasis;
  /** [pattern] mean of each spline. */
  readonly means: readonly Float64Array[];
  /** [pattern] doses of one period, 1 in a solid patch of the same card. */
  readonly doses: readonly Float64Array[];
  /** [pattern] dose of a solid patch of its card over that of the first card. */
  readonly factors: readonly number[];
}

export type DesignFor = (beam: TrialBeam) => CardDesign;

/** @param start decides how finely patterns are sampled, whatever the trial beam */
export function cardDesigns(card: MeasuredCard, start: TrialBeam): DesignFor {
  const patterns = card.patterns.map((pattern) =>
    burnedPattern(card, pattern, beamFor(card, pattern, start)),
  );
  return (beam) => {
    const doses = patterns.map((burned, k) => patternDoses(burned, beamFor(card, card.patterns[k], beam)));
    const factors = card.patterns.map(({ doseFactor, other }) =>
      other ? doseFactor * beam.others[other.place - 1].dose : doseFactor,
    );
    const topDose = doses.reduce((top, each, k) => Math.max(top, factors[k] * largest(each)), 0);
    const basis = { cells: CELLS, topDose };
    return { basis, doses, factors, means: doses.map((each, k) => splineMeans(basis, each, factors[k])) };
  };
}

const beamFor = (card: MeasuredCard, { other }: MeasuredPattern, beam: TrialBeam): TrialBeam =>
  other ? beamOnOther(beam, card, other) : { ...beam, oneWay: card.oneWay };

function burnedPattern(card: MeasuredCard, { tile, other }: MeasuredPattern, start: TrialBeam) {
  const { pitch, levels } = other ?? card;
  const rows = periodRows(tile, start.oneWay);
  const places = (periodMm: number, spotMm: number): number =>
    Math.ceil(periodMm / (MOST_SIGMAS_APART * sigmaMmFromSpotDiameterMm(spotMm)));
  const pattern: BurnedPattern = {
    ...{ tile, pitch, levels },
    // Along a line of one column nothing changes.
    placesAlong: tile.columns === 1 ? 1 : places(tile.columns * pitch.alongMm, start.alongMm),
    placesAcross: rows * places(pitch.acrossMm, start.acrossMm),
  };
  return pattern;
}

const largest = (values: Float64Array): number => values.reduce((most, value) => Math.max(most, value), 0);
