import type { BeamMotion, Spot } from "../core/spot.js";
import { type FitAtBeam, fitAt } from "./beam-search.js";
import { type BestFit, firstFit, modelOf, simplestFit } from "./best-fit.js";
import { joinedCards, type MeasuredCard, otherCards } from "./card.js";
import { type Band, bandOf, type Refit, refits } from "./certainty.js";
import { type PatchNoise, patternFacts } from "./patch-noise.js";
import { splineAt } from "./response-basis.js";
import { beforeReversal } from "./reversal.js";
import { type TrialBeam, trialBeam } from "./trial-beam.js";
import type { Unknown } from "./unknowns.js";

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
  /** Change of the fitted luminance factor with ln dose. */
  readonly slope: number;
  /** Of each place. */
  readonly spoilt: readonly boolean[];
}

export interface LearntCard {
  /** Up to the largest dose of the patterns. */
  readonly response: readonly LearntDose[];
  readonly spotAlongMm: LearntValue;
  readonly spotAcrossMm: LearntValue;
  readonly firingLossUs: LearntValue;
  readonly firingLagUs: LearntValue;
  readonly lineShiftMm: LearntValue;
  readonly lineExponent: LearntValue;
  /** Of each card after the first: its dose over what was meant, and its spot, as factors on those of the first. */
  readonly others: readonly { readonly dose: LearntValue; readonly spot: LearntValue }[];
  readonly noise: PatchNoise;
  /** Freedoms that the fit took from the patches, at most. */
  readonly freedoms: number;
  readonly patterns: readonly LearntPattern[];
  /** Dose at which the tone turns back and the response ends; undefined if it does not. */
  readonly reversalDose: number | undefined;
  /** Patterns that are left out because they go beyond. */
  readonly beyond: readonly string[];
}

const REFITS = 40;
/** The fitted curve has small steps that the surface has not. Slopes over so wide a step leave them out. */
const WIDE_DOSE_STEP = 1.15;
/** Doses at which the response is reported. */
const REPORTED_DOSES = 20;

/** Material and beam from what was measured of a card. */
export const fitCard = (card: MeasuredCard, start: CardStart): LearntCard => fitCards([card], start);

/**
 * Material and beam from cards of one material, burned on one machine: at other densities, speeds or doses, or the same again. The cards
 * differ by chance, so dose 1 and the spot are the mean of those whose dose is known, in logarithms.
 */
export function fitCards(cards: readonly MeasuredCard[], start: CardStart): LearntCard {
  const whole = joinedCards(cards);
  const oneWay = cards.every((each) => each.oneWay);
  const beam = {
    ...trialBeam(start.spot, start.motion, start.lineExponent, otherCards(whole)),
    oneWay,
  };
  const { card, reversals, beyond } = beforeReversal(whole, beam);
  const all = modelOf(card, beam);
  const first = firstFit(card, all);
  const best = simplestFit(card, first);
  const { doseUnit: unit, ...learnt } = learntCard(card, best, first);
  const ends = reversals.map(
    ({ place, dose }) => (dose * (learnt.others[place - 1]?.dose.value ?? 1)) / unit,
  );
  return { ...learnt, reversalDose: ends.length > 0 ? Math.min(...ends) : undefined, beyond };
}

/**
 * Bands come from refits of the fit in which all unknowns are free: so they hold what a fault that was put back may have done to the others.
 */
function learntCard(card: MeasuredCard, best: BestFit, free: BestFit) {
  const fit = fitAt(best.model, best.at, best.weighed);
  const again = refits(free.model, free.weighed, free.at, REFITS);
  const beam = best.model.scale.beamAt(best.at);
  const freeBeam = free.model.scale.beamAt(free.at);
  const beams = again.map(({ at }) => free.model.scale.beamAt(at));
  const learnt = (name: Unknown, of: (beam: TrialBeam) => number): LearntValue => ({
    value: of(beam),
    ...holding(of(beam), bandOf(of(freeBeam), beams.map(of))),
    learnt: !best.unlearnt.includes(name),
  });
  const mmPerUs = card.speedMmPerS * 1e-6;
  const unit = doseUnit(beam);
  const facts = patternFacts(fit, WIDE_DOSE_STEP);
  return {
    response: learntResponse(fit, fitAt(free.model, free.at, free.weighed), again).map(
      ({ dose, ...row }) => ({ dose: dose / unit, ...row }),
    ),
    spotAlongMm: learnt("along", (each) => each.alongMm * meanSpot(each)),
    spotAcrossMm: learnt("across", (each) => each.acrossMm * meanSpot(each)),
    doseUnit: unit,
    firingLossUs: learnt("loss", ({ lossMm }) => lossMm / mmPerUs),
    firingLagUs: lagFrom(learnt("lag", ({ lagMm }) => (lagMm / mmPerUs) ** 2)),
    lineShiftMm: learnt("lineShift", ({ lineShiftMm }) => lineShiftMm),
    lineExponent: learnt("lineExponent", ({ lineExponent }) => lineExponent),
    others: beam.others.map((_, k) => ({
      dose: learnt(`dose${k}`, ({ others }) => others[k].dose),
      spot: learnt(`spot${k}`, ({ others }) => others[k].spot),
    })),
    noise: best.weighed.noise,
    freedoms: best.at.length + fit.design.basis.cells,
    patterns: card.patterns.map(({ id }, k) => ({
      id,
      measured: best.weighed.luminance[k],
      fitted: best.weighed.luminance[k] - fit.response.residuals[k] * best.weighed.error[k],
      slope: facts[k].slope,
      spoilt: Array.from(best.weighed.weights[k], (weight) => weight === 0),
    })),
  };
}

/** A short lag acts by its square, as a blur does: so the band is one of squares. */
const lagFrom = ({ value, low, high, learnt }: LearntValue): LearntValue => ({
  value: Math.sqrt(value),
  low: Math.sqrt(Math.max(0, low)),
  high: Math.sqrt(high),
  learnt,
});

function learntResponse(best: FitAtBeam, free: FitAtBeam, again: readonly Refit[]): LearntDose[] {
  const { topDose } = best.design.basis;
  return Array.from({ length: REPORTED_DOSES + 1 }, (_, i) => {
    const dose = (i / REPORTED_DOSES) * topDose;
    const at = ({ design, response }: FitAtBeam) => splineAt(design.basis, response.coefficients, dose);
    const band = bandOf(
      at(free),
      again.map(({ fit }) => at(fit)),
    );
    return { dose, luminance: at(best), ...holding(at(best), band) };
  });
}

/** Geometric means over the cards, of which the first has 1. */
const doseUnit = ({ others }: TrialBeam): number =>
  meanFactor(others.flatMap(({ dose, isDoseKnown }) => (isDoseKnown ? [dose] : [])));
const meanSpot = ({ others }: TrialBeam): number => meanFactor(others.map(({ spot }) => spot));

const meanFactor = (factors: readonly number[]): number =>
  Math.exp(factors.reduce((sum, factor) => sum + Math.log(factor), 0) / (factors.length + 1));

const holding = (value: number, { low, high }: Band): Band => ({
  low: Math.min(low, value),
  high: Math.max(high, value),
});
