import { EDGE_RANKS, rankShare } from "../core/edge-order.js";
import { type EdgePlacement, NORMAL_STEPS } from "../core/edge-placement.js";
import { createKernelMemory } from "../core/kernel-memory.js";
import type { BeamPath } from "../core/spot.js";
import { type PlanNeeds, planExposure } from "./exposure-plan.js";
import type { TestBeam } from "./mark-ends.js";
import { isVertical, slantedGrowthMm } from "./slanted-edge.js";
import { edgeSteps } from "./straight-edge.js";
import { openRunPx, thinnestRuns } from "./thinnest-runs.js";

/** Factor on the samples for tones. The end of a mark is then known within 1 % of the spot. */
const REFINEMENT = 2;

/**
 * Above this spot/pitch ratio the grid is measured with pixels several times as large. That changes the growth of the mark by less
 * than 1 %.
 */
const ENOUGH_OVERDRIVE = 10;

/** Corrections of the mean threshold of slanted edges. Few are enough: the growth hardly depends on it. */
const CORRECTIONS = 2;

/**
 * Finds the thresholds that put edges where they are drawn. It engraves straight edges in the model: along and across, at every
 * rank of partial rows, and slanted.
 *
 * The mark of rank k ends e_k past the last whole row of pixels. So rank k starts when the drawn edge lies half-way between
 * e_(k−1) and e_k. An edge along or across then lies within half the largest step of its drawn place (`toleranceMm`).
 *
 * @param halfDose dose at the end of a mark: `halfResponseDose`
 * @param memory by default a new one
 * @param material see `PlanNeeds`
 */
export function measureEdgePlacement(
  path: BeamPath,
  halfDose: number,
  memory = createKernelMemory(),
  material?: PlanNeeds["material"],
): EdgePlacement {
  const { spot, motion } = path;
  const overdrive = Math.min(spot.alongMm / path.pitch.alongMm, spot.acrossMm / path.pitch.acrossMm);
  const coarser = Math.max(1, Math.floor(overdrive / ENOUGH_OVERDRIVE));
  const pitch = { alongMm: coarser * path.pitch.alongMm, acrossMm: coarser * path.pitch.acrossMm };
  // Lines in the other direction are mirror images. Their lag is corrected line by line.
  const plan = planExposure(pitch, spot, { ...motion, oneWay: true }, { refinement: REFINEMENT, material });
  const beam: TestBeam = { memory, plan, pitch, halfDose };
  const release = memory.mark();
  const right = edgeSteps(beam, "right").map((step) => step * pitch.alongMm);
  const left = edgeSteps(beam, "left").map((step) => step * pitch.alongMm);
  const below = edgeSteps(beam, "below").map((step) => step * pitch.acrossMm);
  const lateMm = meanOf(right.map((end, k) => (end - left[k]) / 2));
  const along = thresholdsFrom(
    right.map((end, k) => (end + left[k]) / 2),
    pitch.alongMm,
  );
  const across = thresholdsFrom(below, pitch.acrossMm);
  const meanMm = meanThresholds(beam, along, across, lateMm);
  const runs = thinnestRuns(beam);
  const open = openRunPx(beam);
  release();
  return {
    meanMm,
    alongMm: along.byRankMm.map((mm) => mm / coarser),
    acrossMm: across.byRankMm.map((mm) => mm / coarser),
    lateMm,
    minRunPx: { along: coarser * runs.along.minPx, across: coarser * runs.across.minPx },
    thinnestMarkMm: { along: runs.along.markMm, across: runs.across.markMm },
    closingGapMm: {
      along: Math.max(0, open.along * pitch.alongMm - 2 * along.meanMm),
      across: Math.max(0, open.across * pitch.acrossMm - 2 * across.meanMm),
    },
    toleranceMm: { along: along.toleranceMm / coarser, across: across.toleranceMm / coarser },
  };
}

/** Mean thresholds by direction: known for edges along and across, in between measured on slanted edges. */
function meanThresholds(beam: TestBeam, along: Thresholds, across: Thresholds, lateMm: number): number[] {
  const { pitch } = beam;
  const mean = [along.meanMm, 0, 0, 0, across.meanMm];
  for (let step = 1; step < NORMAL_STEPS; step++) {
    const share = step / NORMAL_STEPS;
    mean[step] = along.meanMm * (1 - share) + across.meanMm * share;
    const normal = { x: Math.sqrt(1 - share), y: Math.sqrt(share) };
    const vertical = isVertical(normal, pitch);
    const spread = rankShare((normal.x * pitch.alongMm) ** 2, (normal.y * pitch.acrossMm) ** 2);
    for (let k = 0; k < CORRECTIONS; k++) {
      const byRank = along.byRankMm.map(
        (mm, rank) => mean[step] + spread * (vertical ? mm * normal.x : across.byRankMm[rank] * normal.y),
      );
      mean[step] += slantedGrowthMm(beam, normal, byRank, lateMm);
    }
  }
  return mean;
}

/** Thresholds of edges that run along the lines or across them, in mm. */
interface Thresholds {
  readonly meanMm: number;
  /** [EDGE_RANKS] Difference from the mean. */
  readonly byRankMm: readonly number[];
  readonly toleranceMm: number;
}

/** Thresholds from the ends e_0..e_(n−1) that the mark reaches past the centres of the last whole row, in mm. */
function thresholdsFrom(endsMm: readonly number[], pitchMm: number): Thresholds {
  const ends = [...endsMm, endsMm[0] + pitchMm];
  // A partial row without a mark does not move the edge, and never moves it back.
  for (let k = 1; k < ends.length; k++) ends[k] = Math.min(ends[EDGE_RANKS], Math.max(ends[k], ends[k - 1]));
  const thresholds = endsMm.map((_, k) => (ends[k] + ends[k + 1]) / 2 - pitchMm);
  const meanMm = meanOf(thresholds);
  return {
    meanMm,
    byRankMm: thresholds.map((mm) => mm - meanMm),
    toleranceMm: Math.max(...endsMm.map((_, k) => ends[k + 1] - ends[k])) / 2,
  };
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
