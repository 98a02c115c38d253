import { normalDeviate, type Random, seededRandom } from "../core/random.js";
import { type FitAtBeam, fitAt, type PatternData } from "./beam-search.js";
import { type LagTrial, withLag } from "./lag-profile.js";
import { moveOf } from "./least-squares-search.js";
import type { TrialBeam } from "./trial-beam.js";

/** A beam and a material that may be the true ones. */
export interface Draw {
  readonly beam: TrialBeam;
  readonly fit: FitAtBeam;
}

const SEED = 20;

/**
 * Beams and materials as likely as the card makes them. Each lag has as many draws as its share. At a lag all that was measured and believed
 * is given errors anew, and fitted again: the beam by one step, because it is nearly linear, the response in full (D. S. Oliver, N. He,
 * A. C. Reynolds, "Conditioning permeability fields to pressure data", ECMOR V, 1996).
 */
export function drawsOf(trials: readonly LagTrial[], data: PatternData, count: number): Draw[] {
  const random = seededRandom(SEED);
  return Array.from({ length: count }, (_, n) => drawOf(trialAt(trials, (n + 0.5) / count), data, random));
}

/** The trial at a share of all shares. */
function trialAt(trials: readonly LagTrial[], share: number): LagTrial {
  let sum = 0;
  for (const trial of trials) {
    sum += trial.share;
    if (sum >= share) return trial;
  }
  return trials[trials.length - 1];
}

/** The starting value as likely as not, else any lag of the cell. */
function lagIn({ lagMm, lagsMm: [low, high], isStart }: LagTrial, random: Random): number {
  const isExact = isStart && random() < 0.5;
  return isExact ? lagMm : low + (high - low) * random();
}

function drawOf(trial: LagTrial, data: PatternData, random: Random): Draw {
  const { model, found } = trial;
  const { scale, shape } = model;
  const changes = found.slopes[0].map(() => normalDeviate(random));
  const move = moveOf(found, changes);
  const at = found.at.map((x, i) => Math.min(scale.high[i], Math.max(scale.low[i], x + move[i])));
  const beam = withLag(scale.beamAt(at), lagIn(trial, random));
  const patterns = data.luminance.length;
  const again = {
    error: data.error,
    luminance: data.luminance.map((luminance, k) => luminance + changes[k] * data.error[k]),
  };
  const kinks = changes.subarray(patterns, changes.length - found.at.length);
  return { beam, fit: fitAt({ ...model, shape: { ...shape, kinks } }, beam, again) };
}
