import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { type BeamFound, type BeamModel, type PatternData, searchBeam } from "./beam-search.js";
import type { TrialBeam } from "./trial-beam.js";

/** The best fit with a given lag, and how likely that lag is. */
export interface LagTrial {
  /** The lag is no unknown of it. */
  readonly model: BeamModel;
  readonly found: BeamFound;
  /** Lags that it stands for; one alone for the starting value. */
  readonly lagsMm: readonly [low: number, high: number];
  /** Shares of all trials: before the card, and after it. */
  readonly believed: number;
  readonly share: number;
}

/** What is believed of the lag beforehand: as likely as not it is the starting value, else it is about as far off as `deviationMm`. */
export interface LagBelief {
  readonly startMm: number;
  readonly deviationMm: number;
}

/** Lags that are tried beside the starting value. */
const TRIALS = 12;
/** Longest lag that is tried, in deviations of what is believed. */
const MOST_DEVIATIONS = 4;
const TRIAL_STEPS = 4;

/**
 * The best fits over the lag. To second order a lag is a wider spot along and another line shift, so that one card is fitted by a whole range
 * of lags almost equally well. At a given lag the other unknowns are well known, so the lag is the only one that needs a grid.
 *
 * @param near a beam that fits with some lag
 */
export function lagProfile(
  model: BeamModel,
  data: PatternData,
  near: TrialBeam,
  belief: LagBelief,
): LagTrial[] {
  const cells = lagCells(near, belief);
  let beam = near;
  const trials = cells.map(({ lagMm, ...cell }) => {
    const held = withLag(beam, lagMm);
    const trialModel = { ...model, scale: model.scale.without("lag", held) };
    const found = searchBeam(trialModel, data, held, TRIAL_STEPS);
    beam = found.beam;
    return { ...cell, model: trialModel, found };
  });
  const least = Math.min(...trials.map(({ found }) => found.squares));
  const likely = trials.map(({ believed, found }) => believed * Math.exp((least - found.squares) / 2));
  const total = likely.reduce((sum, each) => sum + each, 0);
  return trials.map((trial, n) => ({ ...trial, share: likely[n] / total }));
}

/** The starting value, and a grid from 0 to the longest lag that the width of lines leaves room for. */
function lagCells(near: TrialBeam, { startMm, deviationMm }: LagBelief) {
  const widthMm = Math.hypot(sigmaMmFromSpotDiameterMm(near.alongMm), near.lagMm);
  const longestMm = Math.max(startMm, Math.min(widthMm, startMm + MOST_DEVIATIONS * deviationMm));
  const slab = Array.from({ length: TRIALS }, (_, n) => {
    const lagMm = ((n + 0.5) / TRIALS) * longestMm;
    const density = Math.exp(-(((lagMm - startMm) / deviationMm) ** 2) / 2);
    return { lagMm, density, lagsMm: [(n / TRIALS) * longestMm, ((n + 1) / TRIALS) * longestMm] as const };
  }).filter(({ lagsMm: [low, high] }) => startMm < low || startMm > high);
  const total = slab.reduce((sum, { density }) => sum + density, 0);
  return [
    { lagMm: startMm, lagsMm: [startMm, startMm] as const, believed: 0.5 },
    ...slab.map(({ density, ...cell }) => ({ ...cell, believed: density / total / 2 })),
  ].sort((a, b) => a.lagMm - b.lagMm);
}

/** Least share of the width of a line that the spot itself has, beside the lag. */
const LEAST_SPOT = 0.25;

/** The beam with another lag that leaves almost the same: the variance of a lag is its length squared. */
export function withLag(beam: TrialBeam, lagMm: number): TrialBeam {
  const variance = sigmaMmFromSpotDiameterMm(beam.alongMm) ** 2;
  const share = 1 + (beam.lagMm ** 2 - lagMm ** 2) / variance;
  return {
    ...beam,
    lagMm,
    alongMm: beam.alongMm * Math.sqrt(Math.max(share, LEAST_SPOT ** 2)),
    lineShiftMm: beam.oneWay ? beam.lineShiftMm : beam.lineShiftMm + 2 * (lagMm - beam.lagMm),
  };
}

/** Whether the card tells as much of the lag as was believed before: whether it halves the variance about the starting value. */
export function tellsLag(trials: readonly LagTrial[], startMm: number): boolean {
  const mean = trials.reduce((sum, { share, found }) => sum + share * found.beam.lagMm, 0);
  const after = trials.reduce((sum, { share, found }) => sum + share * (found.beam.lagMm - mean) ** 2, 0);
  const before = trials.reduce(
    (sum, { believed, found }) => sum + believed * (found.beam.lagMm - startMm) ** 2,
    0,
  );
  return after < before / 2;
}
