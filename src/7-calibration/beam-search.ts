import { dot } from "../core/positive-definite.js";
import type { CardDesign, DesignFor } from "./card-designs.js";
import {
  type Found,
  type SearchEffort,
  type SearchProblem,
  searchLeastSquares,
} from "./least-squares-search.js";
import { type FittedResponse, fitResponse, type ResponseShape } from "./response-fit.js";
import type { Unknown, UnknownScale } from "./unknowns.js";

/** What was measured of each pattern: luminance factors and their standard errors. */
export interface PatternData {
  readonly luminance: Float64Array;
  readonly error: Float64Array;
}

/** All that a search needs but data. */
export interface BeamModel {
  readonly scale: UnknownScale;
  readonly designFor: DesignFor;
  readonly shape: ResponseShape;
}

/** The best response for a beam. */
export interface FitAtBeam {
  readonly design: CardDesign;
  readonly response: FittedResponse;
}

export function fitAt(
  { scale, designFor, shape }: BeamModel,
  at: Float64Array,
  data: PatternData,
): FitAtBeam {
  const design = designFor(scale.beamAt(at));
  const patterns = design.means.map((means, k) => ({
    means,
    luminance: data.luminance[k],
    error: data.error[k],
  }));
  return { design, response: fitResponse(patterns, shape) };
}

/**
 * The problem in the unknowns of the beam alone. The response is solved for at every trial (variable projection: G. H. Golub, V. Pereyra,
 * "The differentiation of pseudo-inverses and nonlinear least squares problems whose variables separate", SIAM J. Numer. Anal. 10,
 * 413–432, 1973). What is believed beforehand counts as one more measurement of each unknown.
 *
 * @param believed values of the unknowns before the card, on their scale: 0 is the starting value
 */
function beamProblem(model: BeamModel, data: PatternData, believed: Float64Array): SearchProblem {
  return {
    low: model.scale.low,
    high: model.scale.high,
    residuals: (at) => {
      const { residuals } = fitAt(model, at, data).response;
      const all = new Float64Array(residuals.length + at.length);
      all.set(residuals);
      for (let i = 0; i < at.length; i++) all[residuals.length + i] = at[i] - believed[i];
      return all;
    },
  };
}

/** @param believed see `beamProblem`; by default the starting values */
export function searchBeam(
  model: BeamModel,
  data: PatternData,
  from: Float64Array,
  { believed, ...effort }: SearchEffort & { readonly believed?: Float64Array },
): Found {
  const problem = beamProblem(model, data, believed ?? new Float64Array(from.length));
  return searchLeastSquares(problem, from, effort);
}

/** Trial values on the scale of the unknowns, of those whose sum of squares may have several valleys. */
const SPOT_TRIALS = [-1.4, -0.7, 0, 0.7, 1.4];
const SHIFT_TRIALS = [-2.4, -1.8, -1.2, -0.6, 0, 0.6, 1.2, 1.8, 2.4];

/** A place from which a search finds the lowest valley: the best of a coarse grid of spots, then of line shifts. */
export function coarseStart(model: BeamModel, data: PatternData): Float64Array {
  const none = new Float64Array(model.scale.names.length);
  const { residuals } = beamProblem(model, data, none);
  const best = (places: readonly Float64Array[]): Float64Array => {
    const squares = places.map((at) => residuals(at)).map((all) => dot(all, all));
    return places[squares.indexOf(Math.min(...squares))];
  };
  const changed = (at: Float64Array, name: Unknown, value: number): Float64Array =>
    at.map((x, i) => (model.scale.names[i] === name ? value : x));
  const spots = SPOT_TRIALS.flatMap((along) =>
    SPOT_TRIALS.map((across) => changed(changed(none, "along", along), "across", across)),
  );
  const spot = best(spots);
  return best(SHIFT_TRIALS.map((shift) => changed(spot, "lineShift", shift)));
}
