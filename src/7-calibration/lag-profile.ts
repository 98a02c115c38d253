import { medianOf } from "../core/median.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import { type BeamFound, type BeamModel, type PatternData, searchBeam } from "./beam-search.js";
import type { TrialBeam } from "./trial-beam.js";

/** Lags that one of them stands for. */
export interface LagCell {
  readonly lagMm: number;
  /** The starting value stands for lags that are so near to it that nothing tells them from it. */
  readonly lagsMm: readonly [low: number, high: number];
  readonly isStart: boolean;
  /** How likely they are before the card. */
  readonly believed: number;
}

/** The best fit with the lag of a cell, and how likely the cell is after the card. */
export interface LagTrial extends LagCell {
  /** The lag is no unknown of it. */
  readonly model: BeamModel;
  readonly found: BeamFound;
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
/** Cells below this share are left out of a finer profile. */
const LEAST_SHARE = 0.002;

/**
 * The best fits over the lag. To second order a lag is a wider spot along and another line shift, so that one card is fitted by a whole range
 * of lags almost equally well. At a given lag the other unknowns are well known, so the lag is the only one that needs a grid.
 *
 * @param near a beam that fits with some lag
 * @param cells in the order of their lags
 */
export function lagProfile(
  model: BeamModel,
  data: PatternData,
  near: TrialBeam,
  cells: readonly LagCell[],
): LagTrial[] {
  let beam = near;
  const trials = cells.map((cell) => {
    const held = withLag(beam, cell.lagMm);
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

/** The starting value, and cells from 0 to the longest lag that the width of lines leaves room for. */
export function lagCells(near: TrialBeam, belief: LagBelief): LagCell[] {
  const { startMm, deviationMm } = belief;
  const widthMm = Math.hypot(sigmaMmFromSpotDiameterMm(near.alongMm), near.lagMm);
  const longestMm = Math.max(startMm, Math.min(widthMm, startMm + MOST_DEVIATIONS * deviationMm));
  return withStart([0, longestMm], 0.5, belief);
}

/** Smaller cells where a profile found the lag to be. */
export function finerCells(trials: readonly LagTrial[], belief: LagBelief): LagCell[] {
  const likely = trials.filter(({ share }) => share > LEAST_SHARE);
  const from = Math.min(...likely.map(({ lagsMm: [low] }) => low));
  const to = Math.max(...likely.map(({ lagsMm: [, high] }) => high));
  const within = trials.filter(({ isStart, lagsMm: [low, high] }) => !isStart && low >= from && high <= to);
  return withStart(
    [from, to],
    within.reduce((sum, { believed }) => sum + believed, 0),
    belief,
  );
}

/** The starting value, and cells of a range that are together as likely as this. */
function withStart([from, to]: LagCell["lagsMm"], believed: number, belief: LagBelief): LagCell[] {
  const { startMm, deviationMm } = belief;
  const edgeAt = (n: number): number => from + (n / TRIALS) * (to - from);
  const all = Array.from({ length: TRIALS }, (_, n) => {
    const lagMm = edgeAt(n + 0.5);
    const density = Math.exp(-(((lagMm - startMm) / deviationMm) ** 2) / 2);
    return { lagMm, density, lagsMm: [edgeAt(n), edgeAt(n + 1)] as const, isStart: false };
  });
  const holdsStart = ({ lagsMm: [low, high] }: Pick<LagCell, "lagsMm">) => startMm >= low && startMm <= high;
  const own = all.filter(holdsStart).flatMap(({ lagsMm }) => lagsMm);
  const lagsMm = [Math.min(startMm, ...own), Math.max(startMm, ...own)] as const;
  const start: LagCell = { lagMm: startMm, lagsMm, believed: 0.5, isStart: true };
  const cells = to > from ? all.filter((cell) => !holdsStart(cell)) : [];
  const total = cells.reduce((sum, { density }) => sum + density, 0);
  return [
    start,
    ...cells.map(({ density, ...cell }) => ({ ...cell, believed: (believed * density) / total })),
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
export function tellsLag(trials: readonly LagTrial[], cells: readonly LagCell[], startMm: number): boolean {
  const mean = trials.reduce((sum, { share, lagMm }) => sum + share * lagMm, 0);
  const after = trials.reduce((sum, { share, lagMm }) => sum + share * (lagMm - mean) ** 2, 0);
  const before = cells.reduce((sum, { believed, lagMm }) => sum + believed * (lagMm - startMm) ** 2, 0);
  return after < before / 2;
}

/** The lag that draws tell: the starting value if it is as likely as all others, else the middle of them. */
export function lagOf(trials: readonly LagTrial[], drawnMm: readonly number[]): number {
  const [start] = trials.filter(({ isStart }) => isStart);
  return start && start.share >= 0.5 ? start.lagMm : medianOf(drawnMm);
}
