import { eyeKernel, eyeWidthMm } from "../../4-search/eye-kernel.js";
import type { SearchModel } from "../../4-search/search-model.js";
import { changeReach, largestBox } from "../../4-search/search-state.js";
import { luminanceFactorAt, type Response } from "../../core/material/response.js";
import { eyeDecayCyclesPerDegree, perMmFromCyclesPerDegree } from "../../core/physics/modulation.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { Job } from "../job.js";
import { fieldShares, type PieceSize } from "../judge/variation-runs.js";
import { viewingOf } from "../judge/viewing.js";
import { type Marks, marksOf } from "./marks.js";

/** What a search lowers: the error at the settings, or the one to expect of a machine that varies. */
export type SearchAim = "nominal" | "robust";

/** Doses of a piece, and how their errors count. */
export interface DoseCases {
  readonly doses: readonly number[];
  /** Share of the squared error at each dose. */
  readonly shares: readonly number[];
  /** Share of the squared difference between the last and the first dose: what varies within the piece. */
  readonly within: number;
  /** Share of the squared tone shift at each dose that does not count. */
  readonly shiftsLeftOut: readonly number[];
}

export interface SearchPlan extends DoseCases {
  /** The model as an eye sees it that is so many times nearer than the viewing distance. */
  readonly modelFrom: (nearness: number) => SearchModel;
  /** Pixels to each side that a change may touch. */
  readonly reach: { readonly along: number; readonly across: number };
  /** See `TileSearch`. */
  readonly exactPx: number;
}

/**
 * Samples per spot of the search, fewer than an exposure has. What that leaves wrong is found when a pass begins, because pulls
 * then come from the exposure itself. More bring nothing: 10 instead of 4 lower the expected error on a steep material by 0.02 L*
 * in three times the time.
 */
const SAMPLES_PER_SPOT = 4;

/** Most samples of a pixel in one direction, where lines stand far apart: a tile then takes 90 MB. */
const MAX_SAMPLES = 8;

const STEPS_PER_DOSE = 1024;

/** Doses of a robust search are at least this far apart, so that their difference tells what varies within the piece. */
const LEAST_STEP = 0.05;

/** Pulls are exact this much further than a change touches. */
const EXACT_PX = 1;

export function searchPlan({ options, model }: Job, aim: SearchAim, piece: PieceSize): SearchPlan {
  const { pitch, spot, motion, levels } = options;
  const cases = aim === "nominal" ? NOMINAL : robustCases(options, piece);
  const samplesAlong = samplesFor(pitch.alongMm, spot.alongMm);
  const samplesAcross = samplesFor(pitch.acrossMm, spot.acrossMm);
  const marks = marksOf({ pitch, spot, motion }, samplesAlong, samplesAcross);
  const decayPerMm = eyeDecayPerMm(options);
  const steps = Math.ceil(STEPS_PER_DOSE * largestDose(marks, samplesAlong, samplesAcross)) + 1;
  const search: Omit<SearchModel, "eye"> = {
    ...{ samplesAlong, samplesAcross, ...marks, levels, steps, stepsPerDose: STEPS_PER_DOSE },
    surface: cases.doses.map((dose) => surfaceTable(model.response, dose, steps)),
    coupling: couplingOf(cases),
  };
  const reach = changeReach(search);
  const box = largestBox(search);
  const modelFrom = (nearness: number): SearchModel => ({
    ...search,
    eye: eyeKernel(pitch, nearness * decayPerMm, box),
  });
  return {
    ...cases,
    modelFrom,
    reach,
    exactPx: Math.max(reach.along, reach.across) + EXACT_PX,
  };
}

/** Decay of the eye's modulation on the work, in cycles per mm. */
function eyeDecayPerMm(options: ResolvedOptions): number {
  const { distanceMm, luminanceCdPerM2 } = viewingOf(options);
  return perMmFromCyclesPerDegree(eyeDecayCyclesPerDegree(luminanceCdPerM2), distanceMm);
}

/** Width of the eye's kernel in pixels, where they lie furthest apart. */
export const eyeWidthPx = (options: ResolvedOptions): number =>
  eyeWidthMm(eyeDecayPerMm(options)) / Math.max(options.pitch.alongMm, options.pitch.acrossMm);

const NOMINAL: DoseCases = { doses: [1], shares: [1], within: 0, shiftsLeftOut: [0] };

/**
 * Section 13 for a search: three doses with the spread of the common part, whose tone shift counts a third, so eight ninths of its
 * square do not, but at the settings, where the user sees it. Local and line parts change the dose from place to place: they ask for
 * a small slope of L* by ln dose.
 */
function robustCases(options: ResolvedOptions, piece: PieceSize): DoseCases {
  const { common, local, line } = options.spread;
  const step = Math.max(LEAST_STEP, Math.sqrt(1.5) * common);
  const side = (common / step) ** 2 / 2;
  const fields = fieldShares(options, piece);
  const within = (local ** 2 * fields.local.seen + line ** 2 * fields.line.seen) / (2 * step) ** 2;
  return {
    ...{ doses: [1 - step, 1, 1 + step], shares: [side, 1 - 2 * side, side], within },
    shiftsLeftOut: [8 / 9, 0, 8 / 9],
  };
}

function couplingOf({ shares, within }: DoseCases): Float64Array {
  const count = shares.length;
  const coupling = new Float64Array(count * count);
  shares.forEach((share, k) => {
    coupling[k * count + k] = share;
  });
  if (within === 0) return coupling;
  const last = count - 1;
  coupling[0] += within;
  coupling[last * count + last] += within;
  coupling[last] -= within;
  coupling[last * count] -= within;
  return coupling;
}

const samplesFor = (pitchMm: number, spotMm: number): number =>
  Math.min(MAX_SAMPLES, Math.max(1, Math.ceil((SAMPLES_PER_SPOT * pitchMm) / spotMm - 1e-9)));

const surfaceTable = (response: Response, dose: number, steps: number): Float64Array =>
  Float64Array.from({ length: steps + 1 }, (_, i) =>
    luminanceFactorAt(response, (dose * i) / STEPS_PER_DOSE),
  );

/** The largest dose in a solid fill. */
const largestDose = ({ evenLines, across }: Marks, samplesAlong: number, samplesAcross: number): number =>
  largestSum(evenLines.dose, samplesAlong) * largestSum(across.dose, samplesAcross);

function largestSum(dose: Float64Array, samples: number): number {
  const sums = new Float64Array(samples);
  dose.forEach((value, i) => {
    sums[i % samples] += value;
  });
  return Math.max(...sums);
}
