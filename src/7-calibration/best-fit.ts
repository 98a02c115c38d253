import {
  type BeamModel,
  coarseFaults,
  coarseSpot,
  fitAt,
  type PatternData,
  searchBeam,
} from "./beam-search.js";
import type { MeasuredCard } from "./card.js";
import { cardDesigns } from "./card-designs.js";
import { deviationsOf, type Found } from "./least-squares-search.js";
import { unweighedCard, type WeighedCard, weighCard } from "./patch-noise.js";
import type { TrialBeam } from "./trial-beam.js";
import { type Unknown, unknownScale } from "./unknowns.js";

/** Second difference of the response's steps that smoothing takes for usual, as a share of the range of luminance. */
const ROUGHNESS = 0.05;
const SEARCH_STEPS = 15;
const COARSE_ROUNDS = 2;
const WEIGHING_ROUNDS = 2;
/** The card tells as much as was believed before where it halves the variance. */
const MOST_DEVIATION = Math.SQRT1_2;
/**
 * Faults of a machine, of which most have few. They stay as they were unless that raises the sum of squares by more than here: 95 % points
 * of χ² with one and two freedoms. A lag shifts lines apart too, so that one can stand for the other: of the two, the one goes that is
 * missed less.
 */
const FAULTS: readonly { readonly either: readonly (readonly Unknown[])[]; readonly most: number }[] = [
  { either: [["loss"]], most: 3.84 },
  { either: [["lineExponent"]], most: 3.84 },
  { either: [["lag", "lineShift"]], most: 5.99 },
  { either: [["lag"], ["lineShift"]], most: 3.84 },
];

export interface BestFit {
  readonly model: BeamModel;
  readonly at: Float64Array;
  readonly weighed: WeighedCard;
  /** Unknowns that the card tells too little of. */
  readonly unlearnt: readonly Unknown[];
}

export function modelOf(card: MeasuredCard, beam: TrialBeam): BeamModel {
  const designFor = cardDesigns(card, beam);
  const { luminance } = unweighedCard(card);
  const range = Math.max(...luminance) - Math.min(...luminance);
  const doses = designFor(beam).doses.map((each) => each.reduce((sum, dose) => sum + dose, 0) / each.length);
  const meanDose = doses.reduce((sum, dose) => sum + dose, 0) / doses.length;
  const rise = doses.reduce((sum, dose, k) => sum + (dose - meanDose) * luminance[k], 0);
  return {
    scale: unknownScale(beam, card.speedMmPerS),
    designFor,
    shape: { darkens: rise < 0, roughness: ROUGHNESS * range },
  };
}

/** From nothing but the starting values. */
export function firstFit(card: MeasuredCard, model: BeamModel): BestFit {
  const data = unweighedCard(card);
  let at = coarseSpot(model, data);
  // With a better spot other faults may fit better.
  for (let round = 0; round < COARSE_ROUNDS; round++) {
    const found = [at, ...coarseFaults(model, data, at)].map((from) => search(model, data, from));
    at = found.reduce((best, each) => (each.squares < best.squares ? each : best)).at;
  }
  const weighed = weighCard(card, fitAt(model, at, data));
  return weighedFit(card, { model, at, weighed, unlearnt: [] });
}

const search = (model: BeamModel, data: PatternData, from: Float64Array): Found =>
  searchBeam(model, data, from, { maxSteps: SEARCH_STEPS });

/** Searches and weighs in turns. */
function weighedFit(card: MeasuredCard, { model, at, weighed, unlearnt }: BestFit): BestFit {
  for (let round = 0; round < WEIGHING_ROUNDS; round++) {
    at = search(model, weighed, at).at;
    weighed = weighCard(card, fitAt(model, at, weighed));
  }
  return { model, at: search(model, weighed, at).at, weighed, unlearnt };
}

/** Fits again with all put back to its starting value that the card tells too little of, and with the faults that it does not show. */
export function simplestFit(card: MeasuredCard, first: BestFit): BestFit {
  let best = withoutUnlearnt(card, first);
  for (const { either, most } of FAULTS) {
    const { squares } = search(best.model, best.weighed, best.at);
    const [simplest] = either
      .filter((names) => names.every((name) => best.model.scale.names.includes(name)))
      .map((names) => without(best, names))
      .map((simpler) => ({
        simpler,
        rise: search(simpler.model, best.weighed, simpler.at).squares - squares,
      }))
      .sort((a, b) => a.rise - b.rise);
    if (simplest && simplest.rise < most) best = weighedFit(card, simplest.simpler);
  }
  return best;
}

/** The least known first, because the others may be better known without it. */
function withoutUnlearnt(card: MeasuredCard, best: BestFit): BestFit {
  const deviations = deviationsOf(search(best.model, best.weighed, best.at));
  const least = deviations.indexOf(Math.max(...deviations));
  if (!(deviations[least] > MOST_DEVIATION)) return best;
  const name = best.model.scale.names[least];
  const simpler = { ...without(best, [name]), unlearnt: [...best.unlearnt, name] };
  return withoutUnlearnt(card, weighedFit(card, simpler));
}

/** The same with some unknowns at their starting values, not yet fitted again. */
function without(best: BestFit, names: readonly Unknown[]): BestFit {
  const { scale } = best.model;
  const kept = scale.names.filter((name) => !names.includes(name));
  const at = best.at.filter((_, i) => !names.includes(scale.names[i]));
  return { ...best, at, model: { ...best.model, scale: scale.only(kept) } };
}
