import { eyeKernel } from "../../4-search/eye-kernel.js";
import type { SearchModel } from "../../4-search/search-model.js";
import { type Response, luminanceFactorAt } from "../../core/material/response.js";
import { eyeDecayCyclesPerDegree, perMmFromCyclesPerDegree } from "../../core/physics/modulation.js";
import type { Spread } from "../../core/spread.js";
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
}

export interface SearchPlan extends DoseCases {
  readonly model: SearchModel;
  /** Pixels to each side that must lie around a pixel that changes. */
  readonly marginAlong: number;
  readonly marginAcross: number;
  /** See `TileSearch.accept`. */
  readonly exactPx: number;
}

/** Samples per spot of the search. Their bias is found, with everything else, when a pass begins. */
const SAMPLES_PER_SPOT = Number(process.env.SPS ?? 4);

const STEPS_PER_DOSE = 1024;

/** Doses of a robust search are at least this far apart, so that their difference tells what varies within the piece. */
const LEAST_STEP = 0.05;

export function searchPlan(job: Job, aim: SearchAim, piece: PieceSize): SearchPlan {
  const { options, model } = job;
  const { pitch, spot, motion, levels } = options;
  const { distanceMm, luminanceCdPerM2 } = viewingOf(options);
  const cases = aim === "nominal" ? NOMINAL : robustCases(options.spread, job, piece);
  const samplesAlong = samplesFor(pitch.alongMm, spot.alongMm);
  const samplesAcross = samplesFor(pitch.acrossMm, spot.acrossMm);
  const marks = marksOf({ pitch, spot, motion }, samplesAlong, samplesAcross);
  const decayPerMm = perMmFromCyclesPerDegree(eyeDecayCyclesPerDegree(luminanceCdPerM2), distanceMm);
  const steps = Math.ceil(STEPS_PER_DOSE * largestDose(marks, samplesAlong, samplesAcross)) + 1;
  const { evenLines, oddLines, across } = marks;
  const reach = reachOfMarks(marks);
  return {
    ...cases,
    model: {
      ...{ samplesAlong, samplesAcross, evenLines, oddLines, across, levels, steps },
      stepsPerDose: STEPS_PER_DOSE,
      surface: cases.doses.map((dose) => surfaceTable(model.response, dose, steps)),
      coupling: couplingOf(cases),
      eye: eyeKernel(pitch, decayPerMm),
    },
    marginAlong: 2 * reach.along,
    marginAcross: 2 * reach.across,
    exactPx: Math.max(reach.along, reach.across) + 2,
  };
}

const NOMINAL: DoseCases = { doses: [1], shares: [1], within: 0 };

/** Three doses with the spread of the common part, and the share of the squared slope between them that local and line parts ask for. */
function robustCases(spread: Spread, { options }: Job, piece: PieceSize): DoseCases {
  const step = Math.max(LEAST_STEP, Math.sqrt(1.5) * spread.common);
  const side = (spread.common / step) ** 2 / 2;
  const { local, line } = fieldShares(options, piece);
  const within = (spread.local ** 2 * local.seen + spread.line ** 2 * line.seen) / (2 * step) ** 2;
  return { doses: [1 - step, 1, 1 + step], shares: [side, 1 - 2 * side, side], within };
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
  Math.max(1, Math.ceil((SAMPLES_PER_SPOT * pitchMm) / spotMm - 1e-9));

function surfaceTable(response: Response, dose: number, steps: number): Float64Array {
  return Float64Array.from({ length: steps + 1 }, (_, i) =>
    luminanceFactorAt(response, (dose * i) / STEPS_PER_DOSE),
  );
}

/** The largest dose of a solid fill. */
function largestDose({ evenLines, across }: Marks, samplesAlong: number, samplesAcross: number): number {
  return largestSum(evenLines.dose, samplesAlong) * largestSum(across.dose, samplesAcross);
}

function largestSum(dose: Float64Array, samples: number): number {
  const sums = new Float64Array(samples);
  dose.forEach((value, i) => {
    sums[i % samples] += value;
  });
  return Math.max(...sums);
}

function reachOfMarks({ evenLines, oddLines, across }: Marks): { along: number; across: number } {
  const burst = Math.max(...[evenLines, oddLines].map(({ bursts }) => (bursts ? bursts.wholePx + 1 : 0)));
  return {
    along: burst + Math.max(...[evenLines, oddLines].flatMap(({ before, after }) => [before, after])) + 1,
    across: Math.max(across.before, across.after) + 1,
  };
}

