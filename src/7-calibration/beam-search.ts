import { dot } from "../core/positive-definite.js";
import type { CardDesign, DesignFor } from "./card-designs.js";
import {
  type Found,
  type SearchEffort,
  type SearchProblem,
  searchLeastSquares,
} from "./least-squares-search.js";
import { type FittedResponse, fitResponse, type ResponseShape } from "./response-fit.js";
import type { TrialBeam } from "./trial-beam.js";
import type { UnknownScale } from "./unknowns.js";

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

/** Trial values of those unknowns whose sum of squares has several valleys. */
const SPOT_FACTORS = [0.5, 0.7, 1, 1.4, 2];
const SHIFT_TRIALS_MM = [-0.1, -0.067, -0.033, 0, 0.033, 0.067, 0.1];
const LAG_TRIALS = [0, 0.25, 0.5];
/** Valleys that are searched. */
const MOST_STARTS = 2;

/** The best of a coarse grid of spots, all else as it was. */
export function coarseSpot(model: BeamModel, data: PatternData): Float64Array {
  const start = model.scale.beamAt(new Float64Array(model.scale.names.length));
  const trials = SPOT_FACTORS.flatMap((along) =>
    SPOT_FACTORS.map((across) => ({
      ...start,
      alongMm: along * start.alongMm,
      acrossMm: across * start.acrossMm,
    })),
  );
  return bestTrials(model, data, trials)[0];
}

/**
 * Places from which one search finds the lowest valley. A lag blurs lines along and shifts those of both directions apart. A narrower spot
 * and another line shift look nearly the same, so they change together. Other line shifts are tried beside.
 */
export function coarseFaults(model: BeamModel, data: PatternData, at: Float64Array): Float64Array[] {
  const beam = model.scale.beamAt(at);
  const trials = LAG_TRIALS.flatMap((share) => {
    const alongMm = beam.alongMm * Math.sqrt(1 - share);
    // The spot's variance is (diameter / 4)², that of a lag its length squared.
    const lagMm = Math.sqrt(beam.lagMm ** 2 + share * (beam.alongMm / 4) ** 2);
    const alikeMm = beam.lineShiftMm + 2 * (lagMm - beam.lagMm);
    const shiftsMm = [alikeMm, ...SHIFT_TRIALS_MM.map((shiftMm) => shiftMm + 2 * lagMm)];
    return shiftsMm.map((lineShiftMm) => ({ ...beam, alongMm, lagMm, lineShiftMm }));
  });
  const { lagMm } = beam;
  const withoutLag = {
    ...beam,
    alongMm: Math.hypot(beam.alongMm, 4 * lagMm),
    ...{ lagMm: 0, lineShiftMm: beam.lineShiftMm - 2 * lagMm },
  };
  return bestTrials(model, data, [withoutLag, ...trials]).slice(0, MOST_STARTS);
}

/** Places of some beams, the best first. */
function bestTrials(model: BeamModel, data: PatternData, beams: readonly TrialBeam[]): Float64Array[] {
  const { residuals } = beamProblem(model, data, new Float64Array(model.scale.names.length));
  return beams
    .map((beam) => model.scale.placeOf(beam))
    .map((place) => ({ place, squares: squaresOf(residuals(place)) }))
    .sort((a, b) => a.squares - b.squares)
    .map(({ place }) => place);
}

const squaresOf = (residuals: Float64Array): number => dot(residuals, residuals);
