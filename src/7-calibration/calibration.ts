import type { BeamMotion, Spot } from "../core/spot.js";
import { type BeamModel, coarseStart, fitAt, type PatternData, searchBeam } from "./beam-search.js";
import type { MeasuredCard } from "./card.js";
import { cardDesigns } from "./card-designs.js";
import { type Band, bandOf, type Refit, refits } from "./certainty.js";
import { deviationsOf, type Found } from "./least-squares-search.js";
import { type PatchNoise, unweighedCard, type WeighedCard, weighCard } from "./patch-noise.js";
import { splineAt } from "./response-basis.js";
import { type TrialBeam, trialBeam } from "./trial-beam.js";
import { type Unknown, unknownScale } from "./unknowns.js";

/** What is believed before the card is read. */
export interface CardStart {
  readonly spot: Spot;
  readonly motion: BeamMotion;
  readonly lineExponent: number;
}

export interface LearntValue extends Band {
  readonly value: number;
  /** False if the card tells less than was believed: the value is then the starting value. */
  readonly learnt: boolean;
}

export interface LearntDose extends Band {
  readonly dose: number;
  readonly luminance: number;
}

export interface LearntPattern {
  readonly id: string;
  readonly measured: number;
  readonly fitted: number;
  /** Of each place. */
  readonly spoilt: readonly boolean[];
}

export interface LearntCard {
  readonly response: readonly LearntDose[];
  readonly spotAlongMm: LearntValue;
  readonly spotAcrossMm: LearntValue;
  readonly firingLossUs: LearntValue;
  readonly firingLagUs: LearntValue;
  readonly lineShiftMm: LearntValue;
  readonly lineExponent: LearntValue;
  readonly noise: PatchNoise;
  readonly patterns: readonly LearntPattern[];
}

/** Second difference of the response's steps that smoothing takes for usual, as a share of the range of luminance. */
const ROUGHNESS = 0.05;
const SEARCH_STEPS = 15;
const WEIGHING_ROUNDS = 2;
/** The card tells as much as was believed before where it halves the variance. */
const MOST_DEVIATION = Math.SQRT1_2;
/** Faults of a machine: most have few of them. They stay as they were unless the card contradicts them by so many deviations. */
const FAULTS: readonly Unknown[] = ["loss", "lag", "lineShift", "lineExponent"];
const LEAST_CONTRADICTION = 2;
const REFITS = 40;
/** Doses at which the response is reported. */
const REPORTED_DOSES = 20;

interface BestFit {
  readonly model: BeamModel;
  readonly at: Float64Array;
  readonly weighed: WeighedCard;
  /** Unknowns that the card tells too little of. */
  readonly unlearnt: readonly Unknown[];
}

/** Material and beam from what was measured of a card. */
export function fitCard(card: MeasuredCard, start: CardStart): LearntCard {
  const beam = trialBeam(start.spot, start.motion, start.lineExponent);
  const all = modelOf(card, beam);
  const first = firstFit(card, all);
  const best = simplestFit(card, beam, first);
  const from = placeOn(all, best);
  return learntCard(card, best, refits(all, best.weighed, from, REFITS), all);
}

function modelOf(card: MeasuredCard, beam: TrialBeam, names?: readonly Unknown[]): BeamModel {
  const designFor = cardDesigns(card, beam);
  const { luminance } = unweighedCard(card);
  const range = Math.max(...luminance) - Math.min(...luminance);
  const doses = designFor(beam).doses.map((each) => each.reduce((sum, dose) => sum + dose, 0) / each.length);
  const meanDose = doses.reduce((sum, dose) => sum + dose, 0) / doses.length;
  const rise = doses.reduce((sum, dose, k) => sum + (dose - meanDose) * luminance[k], 0);
  return {
    scale: unknownScale(beam, card.speedMmPerS, names),
    designFor,
    shape: { darkens: rise < 0, roughness: ROUGHNESS * range },
  };
}

function firstFit(card: MeasuredCard, model: BeamModel): BestFit {
  const unweighed = unweighedCard(card);
  const { at } = searchBeam(model, unweighed, coarseStart(model, unweighed), { maxSteps: SEARCH_STEPS });
  return weighedFit(card, model, at, unweighed);
}

function weighedFit(card: MeasuredCard, model: BeamModel, from: Float64Array, data: PatternData): BestFit {
  let at = from;
  let weighed = weighCard(card, fitAt(model, at, data));
  for (let round = 0; round < WEIGHING_ROUNDS; round++) {
    at = searchBeam(model, weighed, at, { maxSteps: SEARCH_STEPS }).at;
    weighed = weighCard(card, fitAt(model, at, weighed));
  }
  return { model, at, weighed, unlearnt: [] };
}

/** Fits again with what the card need not change put back to its starting value, one unknown after the other. */
function simplestFit(card: MeasuredCard, beam: TrialBeam, first: BestFit): BestFit {
  let best = first;
  for (;;) {
    const { model, weighed } = best;
    const found = searchBeam(model, weighed, best.at, { maxSteps: SEARCH_STEPS });
    const back = unknownToPutBack(model.scale.names, found);
    if (!back) return { ...best, at: found.at };
    const names = model.scale.names.filter((name) => name !== back.name);
    const unlearnt = back.learnt ? best.unlearnt : [...best.unlearnt, back.name];
    const from = found.at.filter((_, i) => model.scale.names[i] !== back.name);
    best = { ...weighedFit(card, modelOf(card, beam, names), from, weighed), unlearnt };
  }
}

interface PutBack {
  readonly name: Unknown;
  /** True if the card confirms the starting value, false if it tells too little. */
  readonly learnt: boolean;
}

/** First what the card tells too little of, the least known before the others; then the fault that it contradicts least. */
function unknownToPutBack(names: readonly Unknown[], found: Found): PutBack | undefined {
  const deviations = deviationsOf(found);
  const least = deviations.indexOf(Math.max(...deviations));
  if (deviations[least] > MOST_DEVIATION) return { name: names[least], learnt: false };
  const off = names.map((name, i) =>
    FAULTS.includes(name) ? Math.abs(found.at[i]) / deviations[i] : Infinity,
  );
  const nearest = off.indexOf(Math.min(...off));
  return off[nearest] < LEAST_CONTRADICTION ? { name: names[nearest], learnt: true } : undefined;
}

/** The place of a fit on the scale of all unknowns. */
function placeOn(all: BeamModel, { model, at }: BestFit): Float64Array {
  return Float64Array.from(all.scale.names, (name) => at[model.scale.names.indexOf(name)] ?? 0);
}

function learntCard(card: MeasuredCard, best: BestFit, again: readonly Refit[], all: BeamModel): LearntCard {
  const beam = best.model.scale.beamAt(best.at);
  const fit = fitAt(best.model, best.at, best.weighed);
  const beams = again.map(({ at }) => all.scale.beamAt(at));
  const learnt = (name: Unknown, of: (beam: TrialBeam) => number): LearntValue => ({
    value: of(beam),
    ...bandOf(of(beam), beams.map(of)),
    learnt: !best.unlearnt.includes(name),
  });
  const mmPerUs = card.speedMmPerS * 1e-6;
  return {
    response: learntResponse(fit, again),
    spotAlongMm: learnt("along", ({ alongMm }) => alongMm),
    spotAcrossMm: learnt("across", ({ acrossMm }) => acrossMm),
    firingLossUs: learnt("loss", ({ lossMm }) => lossMm / mmPerUs),
    firingLagUs: learnt("lag", ({ lagMm }) => lagMm / mmPerUs),
    lineShiftMm: learnt("lineShift", ({ lineShiftMm }) => lineShiftMm),
    lineExponent: learnt("lineExponent", ({ lineExponent }) => lineExponent),
    noise: best.weighed.noise,
    patterns: card.patterns.map(({ id }, k) => ({
      id,
      measured: best.weighed.luminance[k],
      fitted: best.weighed.luminance[k] - fit.response.residuals[k] * best.weighed.error[k],
      spoilt: Array.from(best.weighed.weights[k], (weight) => weight === 0),
    })),
  };
}

function learntResponse(fit: Refit["fit"], again: readonly Refit[]): LearntDose[] {
  const { topDose } = fit.design.basis;
  return Array.from({ length: REPORTED_DOSES + 1 }, (_, i) => {
    const dose = (i / REPORTED_DOSES) * topDose;
    const at = ({ design, response }: Refit["fit"]) => splineAt(design.basis, response.coefficients, dose);
    return {
      dose,
      luminance: at(fit),
      ...bandOf(
        at(fit),
        again.map((each) => at(each.fit)),
      ),
    };
  });
}
