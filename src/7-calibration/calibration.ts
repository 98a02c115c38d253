import type { BeamMotion, Spot } from "../core/spot.js";
import { type BeamModel, fitAt } from "./beam-search.js";
import { type BestFit, firstFit, modelOf, simplestFit } from "./best-fit.js";
import type { MeasuredCard } from "./card.js";
import { type Band, bandOf, type Refit, refits } from "./certainty.js";
import type { PatchNoise } from "./patch-noise.js";
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
  readonly noise: PatchNoise;
  readonly patterns: readonly LearntPattern[];
  /** Dose at which the tone turns back and the response ends; undefined if it does not. */
  readonly reversalDose: number | undefined;
  /** Patterns that are left out because they go beyond. */
  readonly beyond: readonly string[];
}

const REFITS = 40;
/** Doses at which the response is reported. */
const REPORTED_DOSES = 20;

/** Material and beam from what was measured of a card. */
export function fitCard(whole: MeasuredCard, start: CardStart): LearntCard {
  const beam = trialBeam(start.spot, start.motion, start.lineExponent);
  const { card, reversalDose, beyond } = beforeReversal(whole, beam);
  const all = modelOf(card, beam);
  const first = firstFit(card, all);
  const best = simplestFit(card, first);
  const from = placeOn(all, best);
  return { ...learntCard(card, best, refits(all, best.weighed, from, REFITS), all), reversalDose, beyond };
}

/** The place of a fit on the scale of all unknowns. */
function placeOn(all: BeamModel, { model, at }: BestFit): Float64Array {
  return Float64Array.from(all.scale.names, (name) => at[model.scale.names.indexOf(name)] ?? 0);
}

function learntCard(card: MeasuredCard, best: BestFit, again: readonly Refit[], all: BeamModel) {
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
