import { dot } from "../core/positive-definite.js";
import type { CardDesign, DesignFor } from "./card-designs.js";
import { type Found, type SearchProblem, searchLeastSquares } from "./least-squares-search.js";
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

export function fitAt({ designFor, shape }: BeamModel, beam: TrialBeam, data: PatternData): FitAtBeam {
  const design = designFor(beam);
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
 * 413–432, 1973). What is believed beforehand counts as one more measurement of each unknown. Residuals are those of the patterns, of the
 * smoothing and of what is believed, in this order.
 */
function beamProblem(model: BeamModel, data: PatternData): SearchProblem {
  return {
    low: model.scale.low,
    high: model.scale.high,
    residuals: (at) => {
      const { residuals } = fitAt(model, model.scale.beamAt(at), data).response;
      const all = new Float64Array(residuals.length + at.length);
      all.set(residuals);
      all.set(at, residuals.length);
      return all;
    },
  };
}

/** A search that starts at a beam. */
export function searchBeam(
  model: BeamModel,
  data: PatternData,
  from: TrialBeam,
  maxSteps: number,
): BeamFound {
  const found = searchLeastSquares(beamProblem(model, data), model.scale.placeOf(from), maxSteps);
  return { ...found, beam: model.scale.beamAt(found.at) };
}

export interface BeamFound extends Found {
  readonly beam: TrialBeam;
}

/** Some beams, the one that fits best first. */
export function bestFirst(model: BeamModel, data: PatternData, beams: readonly TrialBeam[]): TrialBeam[] {
  const { residuals } = beamProblem(model, data);
  return beams
    .map((beam) => {
      const all = residuals(model.scale.placeOf(beam));
      return { beam, squares: dot(all, all) };
    })
    .sort((a, b) => a.squares - b.squares)
    .map(({ beam }) => beam);
}
