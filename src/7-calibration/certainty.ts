import { type Random, seededRandom } from "../core/random.js";
import { type BeamModel, type FitAtBeam, fitAt, type PatternData, searchBeam } from "./beam-search.js";
import type { CardDesign, DesignFor } from "./card-designs.js";

/** One refit to data as they could have come out. */
export interface Refit {
  readonly at: Float64Array;
  readonly fit: FitAtBeam;
}

/** Steps of a refit. It starts at the best fit, which is near. */
const REFIT_STEPS = 5;
const SEED = 20;

/**
 * Residual bootstrap (B. Efron, R. J. Tibshirani, An Introduction to the Bootstrap, 1993, ch. 9): the residuals of the patterns, in
 * standard errors, are dealt out anew, and all is fitted again. The starting values are dealt out anew too, within what was believed
 * of them: so an unknown that the data say nothing about varies as it did before.
 *
 * @param at the best fit on the scale of the model
 */
export function refits(slowModel: BeamModel, data: PatternData, at: Float64Array, count: number): Refit[] {
  const model = { ...slowModel, designFor: remembered(slowModel.designFor) };
  const { design, response } = fitAt(model, at, data);
  const patterns = data.luminance.length;
  const residuals = response.residuals.subarray(0, patterns);
  const fitted = data.luminance.map((luminance, k) => luminance - residuals[k] * data.error[k]);
  const taken = freedomsTaken(at.length, design.basis.cells);
  const widened = Math.sqrt(patterns / Math.max(1, patterns - taken));
  const random = seededRandom(SEED);
  return Array.from({ length: count }, () => {
    const again: PatternData = {
      error: data.error,
      luminance: fitted.map((luminance, k) => {
        const residual = residuals[Math.floor(random() * patterns)];
        return luminance + widened * residual * data.error[k];
      }),
    };
    const believed = at.map(() => normal(random));
    const found = searchBeam(model, again, at, { maxSteps: REFIT_STEPS, nearby: true, believed });
    return { at: found.at, fit: fitAt(model, found.at, again) };
  });
}

/** Beams whose designs are kept: those around the best fit, to which every refit returns. */
const MOST_KEPT = 10;

function remembered(designFor: DesignFor): DesignFor {
  const kept = new Map<string, CardDesign>();
  return (beam) => {
    const key = JSON.stringify(beam);
    const design = kept.get(key) ?? designFor(beam);
    if (kept.size < MOST_KEPT) kept.set(key, design);
    return design;
  };
}

/** Freedoms that a fit takes from the residuals, at most: smoothing takes some of them back, but bands came out too narrow with fewer. */
const freedomsTaken = (unknowns: number, cells: number): number => unknowns + cells;

/** A normal deviate of variance 1 (G. E. P. Box, M. E. Muller, Ann. Math. Statist. 29, 610, 1958). */
export function normal(random: Random): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return radius * Math.cos(2 * Math.PI * random());
}

/** 95 % of a normal distribution lie below this many standard deviations: so 90 % lie within. */
export const BAND_DEVIATIONS = 1.645;

export interface Band {
  readonly low: number;
  readonly high: number;
}

/**
 * The 90 % band of a value whose refits came out as these. Each side has a standard deviation of its own: a lag is never negative, and
 * what it is confused with leans to one side too. Few refits tell a standard deviation better than the ends of a band.
 */
export function bandOf(value: number, refitted: readonly number[]): Band {
  const off = refitted.map((each) => each - value);
  const half = (side: readonly number[]): number =>
    BAND_DEVIATIONS * Math.sqrt(side.reduce((sum, each) => sum + each * each, 0) / Math.max(1, side.length));
  return {
    low: value - half(off.filter((each) => each < 0)),
    high: value + half(off.filter((each) => each > 0)),
  };
}
