import { dot } from "../core/positive-definite.js";
import {
  type BeamFound,
  type BeamModel,
  bestFirst,
  type FitAtBeam,
  fitAt,
  type PatternData,
  searchBeam,
} from "./beam-search.js";
import type { MeasuredCard } from "./card.js";
import { cardDesigns } from "./card-designs.js";
import { finerCells, type LagCell, type LagTrial, lagCells, lagProfile, withLag } from "./lag-profile.js";
import { deviationsOf } from "./least-squares-search.js";
import { unweighedCard, type WeighedCard, weighCard } from "./patch-noise.js";
import type { TrialBeam } from "./trial-beam.js";
import { LAG_DEVIATION_US, type Unknown, unknownScale } from "./unknowns.js";

/** Second difference of the response's steps that smoothing takes for usual, as a share of the range of luminance. */
const ROUGHNESS = 0.05;
const SEARCH_STEPS = 15;
/** The card tells as much as was believed before where it halves the variance. */
const MOST_DEVIATION = Math.SQRT1_2;
/** Faults of a machine, of which most have few. */
const FAULTS: readonly Unknown[] = ["loss", "lineShift", "lineExponent"];
/** They stay as they were unless they are further off than this many standard deviations, however little the card tells. */
const FAULT_DEVIATIONS = 1.96;
/** Lines whose exponent is nearer to 1 add up: material files say no less, and their response must be that of lines that add. */
const LEAST_EXPONENT = 1.02;

/** All that the card allows, before anything is put back. */
export interface FreeFit {
  readonly model: BeamModel;
  readonly weighed: WeighedCard;
  /** Lags as likely as before the card, and as after it. */
  readonly cells: readonly LagCell[];
  readonly lags: readonly LagTrial[];
}

export interface BestFit {
  readonly model: BeamModel;
  readonly found: BeamFound;
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
    scale: unknownScale({ start: beam, speedMmPerS: card.speedMmPerS }),
    designFor,
    shape: { darkens: rise < 0, roughness: ROUGHNESS * range },
  };
}

/** The same card with better readings: from a fit of the worse ones. */
export function refined(card: MeasuredCard, { model, weighed, cells, lags }: FreeFit): FreeFit {
  const again = weighedByFit(card, model, likeliest(lags), weighed);
  return { model, weighed: again, cells, lags: lagProfile(model, again, likeliest(lags), lags) };
}

/** From nothing but the starting values. */
export function freeFit(card: MeasuredCard, model: BeamModel, start: TrialBeam): FreeFit {
  const still = { ...model, scale: model.scale.without("lag", start) };
  let beam = coarseBeam(still, unweighedCard(card), start);
  let weighed = weighCard(card, fitAt(model, beam, unweighedCard(card)));
  const belief = { startMm: start.lagMm, deviationMm: LAG_DEVIATION_US * 1e-6 * card.speedMmPerS };
  beam = searchBeam(still, weighed, beam, SEARCH_STEPS).beam;
  // Which places are spoilt, and how much a pattern is worth, is told by a good fit.
  const cells = lagCells(beam, belief);
  const first = lagProfile(model, weighed, beam, cells);
  beam = likeliest(first);
  weighed = weighedByFit(card, model, beam, weighed);
  return { model, weighed, cells, lags: lagProfile(model, weighed, beam, finerCells(first, belief)) };
}

function weighedByFit(card: MeasuredCard, model: BeamModel, beam: TrialBeam, data: PatternData): WeighedCard {
  const weighed = weighCard(card, fitAt(model, beam, data));
  return widened(weighed, fitAt(model, beam, weighed), model.scale.names.length);
}

/**
 * Larger errors, where patterns are further from the best fit than their repeats explain. A fit takes freedoms from the residuals: at most one
 * for each unknown and each cell. Smoothing gives some of them back, but bands came out a little too narrow with fewer. Never more than half.
 */
function widened(weighed: WeighedCard, { design, response }: FitAtBeam, unknowns: number): WeighedCard {
  const patterns = weighed.error.length;
  const left = Math.max(patterns / 2, patterns - unknowns - design.basis.cells);
  const residuals = response.residuals.subarray(0, patterns);
  const factor = Math.sqrt(Math.max(1, dot(residuals, residuals) / left));
  return { ...weighed, error: weighed.error.map((error) => error * factor) };
}

export const likeliest = (lags: readonly LagTrial[]): TrialBeam =>
  lags.reduce((best, each) => (each.share > best.share ? each : best)).found.beam;

/** Trial values of those unknowns whose sum of squares has several valleys. */
const SPOT_FACTORS = [0.5, 0.7, 1, 1.4, 2];
const SHIFT_TRIALS_MM = [-0.15, -0.12, -0.09, -0.06, -0.03, 0, 0.03, 0.06, 0.09, 0.12, 0.15];
/** Valleys that are searched. */
const MOST_STARTS = 2;
const COARSE_ROUNDS = 2;

/** The best of a coarse grid of spots, then of line shifts. With a better spot other shifts may fit better. */
function coarseBeam(model: BeamModel, data: PatternData, start: TrialBeam): TrialBeam {
  const spots = SPOT_FACTORS.flatMap((along) =>
    SPOT_FACTORS.map((across) => ({
      ...start,
      alongMm: along * start.alongMm,
      acrossMm: across * start.acrossMm,
    })),
  );
  let [beam] = bestFirst(model, data, spots);
  for (let round = 0; round < COARSE_ROUNDS; round++) {
    const shifts = SHIFT_TRIALS_MM.map((shiftMm) => ({ ...beam, lineShiftMm: start.lineShiftMm + shiftMm }));
    const [best] = bestFirst(model, data, [beam, ...shifts])
      .slice(0, MOST_STARTS)
      .map((from) => searchBeam(model, data, from, SEARCH_STEPS))
      .sort((a, b) => a.squares - b.squares);
    beam = best.beam;
  }
  return beam;
}

/**
 * The fit with a given lag, with all put back to its starting value that the card tells too little of, and with the faults that it does not
 * show.
 */
export function simplestFit({ model, weighed, lags }: FreeFit, lagMm: number): BestFit {
  const { beam } = lags.reduce((best, each) =>
    Math.abs(each.found.beam.lagMm - lagMm) < Math.abs(best.found.beam.lagMm - lagMm) ? each : best,
  ).found;
  const from = withLag(beam, lagMm);
  const best = searched({ ...model, scale: model.scale.without("lag", from) }, weighed, from);
  const learnt = withoutUnlearnt({ ...best, unlearnt: [] }, weighed);
  return withoutFaults(withPlainLines(learnt, weighed), weighed);
}

/** With lines that add up, if they nearly do. */
function withPlainLines(best: BestFit, data: PatternData): BestFit {
  const { model, found, unlearnt } = best;
  const { beam } = found;
  if (!model.scale.names.includes("lineExponent") || beam.lineExponent >= LEAST_EXPONENT) return best;
  const held = { ...beam, lineExponent: 1 };
  return {
    ...searched({ ...model, scale: model.scale.without("lineExponent", held) }, data, held),
    unlearnt,
  };
}

const searched = (model: BeamModel, data: PatternData, from: TrialBeam) => ({
  model,
  found: searchBeam(model, data, from, SEARCH_STEPS),
});

/** With an unknown at its starting value. */
function without({ model, found, unlearnt }: BestFit, name: Unknown, data: PatternData): BestFit {
  const held = model.scale.putBack(name, found.beam);
  return { ...searched({ ...model, scale: model.scale.without(name, held) }, data, held), unlearnt };
}

/** The least known first, because the others may be better known without it. */
function withoutUnlearnt(best: BestFit, data: PatternData): BestFit {
  const deviations = deviationsOf(best.found);
  const least = deviations.indexOf(Math.max(...deviations));
  if (!(deviations[least] > MOST_DEVIATION)) return best;
  const name = best.model.scale.names[least];
  const simpler = without(best, name, data);
  return withoutUnlearnt({ ...simpler, unlearnt: [...best.unlearnt, name] }, data);
}

/**
 * The least fault first, because the others may show better without it. Before the card a fault is as likely as none, and if there is one,
 * its size has a normal distribution of deviation 1. Of the evidence exp(z²/2) a fault of z deviations σ then keeps the share σ, because
 * so many other sizes were possible (H. Jeffreys, Theory of Probability, 1961, ch. 5, from memory): it must outweigh none.
 */
function withoutFaults(best: BestFit, data: PatternData): BestFit {
  const deviations = deviationsOf(best.found);
  const [least] = best.model.scale.names
    .map((name, i) => ({
      name,
      size: Math.abs(best.found.at[i]) / deviations[i],
      least: Math.max(FAULT_DEVIATIONS, Math.sqrt(Math.max(0, -2 * Math.log(deviations[i])))),
    }))
    .filter(({ name, size, least: wanted }) => FAULTS.includes(name) && size < wanted)
    .sort((a, b) => a.size - b.size);
  return least ? withoutFaults(without(best, least.name, data), data) : best;
}
