import { EDGE_LEVELS, levelShare } from "../core/edge-order.js";
import { type EdgePlacement, NORMAL_STEPS } from "../core/edge-placement.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { Pitch } from "../core/plane.js";
import type { BeamMotion, Spot } from "../core/spot.js";
import { planExposure } from "./exposure-plan.js";
import { marksOfRuns, openRunPx } from "./least-runs.js";
import { isUpright, slantedGrowthMm } from "./slanted-edge.js";
import { edgeSteps } from "./straight-edge.js";

/** Samples for telling where a mark ends, over those for its tone: then within 1 % of the spot. */
const REFINEMENT = 2;

/**
 * Spots per pitch at which a grid counts as fine: finer ones are measured on pixels several times as large, which changes how far
 * the mark grows by less than 1 %.
 */
const ENOUGH_OVERDRIVE = 10;

/** Times the mean threshold of slanted edges is mended: the growth hardly depends on it. */
const MENDINGS = 2;

/**
 * Find the thresholds that put edges where they are drawn, by engraving straight edges in the model: between all rows of
 * pixels along and across, at every level of partial rows, and slanted ones.
 *
 * With the mark of level k ending e_k past the last whole row of pixels, level k should begin where the drawn edge lies half-way
 * between e_(k−1) and e_k. So an edge along or across lies within half the largest step of where it is drawn (`toleranceMm`).
 *
 * @param halfDose where a mark ends: `halfResponseDose`
 */
export function measureEdgePlacement(
  memory: KernelMemory,
  gridPitch: Pitch,
  spot: Spot,
  motion: BeamMotion,
  halfDose: number,
): EdgePlacement {
  const overdrive = Math.min(spot.alongMm / gridPitch.alongMm, spot.acrossMm / gridPitch.acrossMm);
  const coarser = Math.max(1, Math.floor(overdrive / ENOUGH_OVERDRIVE));
  const pitch = { alongMm: coarser * gridPitch.alongMm, acrossMm: coarser * gridPitch.acrossMm };
  // Lines travelled the other way are mirror images; their lag is made up for line by line.
  const oneWay = planExposure(pitch, spot, { ...motion, oneWay: true }, REFINEMENT);
  const release = memory.mark();
  const right = edgeSteps(memory, oneWay, halfDose, "right").map((step) => step * pitch.alongMm);
  const left = edgeSteps(memory, oneWay, halfDose, "left").map((step) => step * pitch.alongMm);
  const below = edgeSteps(memory, oneWay, halfDose, "below").map((step) => step * pitch.acrossMm);
  const lateMm = meanOf(right.map((end, k) => (end - left[k]) / 2));
  const along = thresholdsFrom(
    right.map((end, k) => (end + left[k]) / 2),
    pitch.alongMm,
  );
  const across = thresholdsFrom(below, pitch.acrossMm);

  const mean = [along.meanMm, 0, 0, 0, across.meanMm];
  for (let step = 1; step < NORMAL_STEPS; step++) {
    const share = step / NORMAL_STEPS;
    mean[step] = along.meanMm * (1 - share) + across.meanMm * share;
    const normal = { x: Math.sqrt(1 - share), y: Math.sqrt(share) };
    const upright = isUpright(normal, pitch);
    const spread = levelShare((normal.x * pitch.alongMm) ** 2, (normal.y * pitch.acrossMm) ** 2);
    for (let k = 0; k < MENDINGS; k++) {
      const byLevel = along.byLevelMm.map(
        (mm, level) => mean[step] + spread * (upright ? mm * normal.x : across.byLevelMm[level] * normal.y),
      );
      mean[step] += slantedGrowthMm(memory, oneWay, pitch, halfDose, normal, byLevel, lateMm);
    }
  }
  const runs = marksOfRuns(memory, oneWay, pitch, halfDose);
  const open = openRunPx(memory, oneWay, halfDose);
  release();
  return {
    meanMm: mean,
    alongMm: along.byLevelMm.map((mm) => mm / coarser),
    acrossMm: across.byLevelMm.map((mm) => mm / coarser),
    lateMm,
    leastRunPx: { along: coarser * runs.along.leastPx, across: coarser * runs.across.leastPx },
    thinnestMarkMm: { along: runs.along.markMm, across: runs.across.markMm },
    closingGapMm: {
      along: Math.max(0, open.along * pitch.alongMm - 2 * along.meanMm),
      across: Math.max(0, open.across * pitch.acrossMm - 2 * across.meanMm),
    },
    toleranceMm: { along: along.toleranceMm / coarser, across: across.toleranceMm / coarser },
  };
}

/** Thresholds from the ends e_0..e_(n−1) that the mark reaches past the centres of the last whole row, in mm. */
function thresholdsFrom(endsMm: readonly number[], pitchMm: number) {
  const ends = [...endsMm, endsMm[0] + pitchMm];
  // A partial row that leaves no mark of its own moves nothing, never back.
  for (let k = 1; k < ends.length; k++) ends[k] = Math.min(ends[EDGE_LEVELS], Math.max(ends[k], ends[k - 1]));
  const thresholds = endsMm.map((_, k) => (ends[k] + ends[k + 1]) / 2 - pitchMm);
  const meanMm = meanOf(thresholds);
  return {
    meanMm,
    byLevelMm: thresholds.map((mm) => mm - meanMm),
    toleranceMm: Math.max(...endsMm.map((_, k) => ends[k + 1] - ends[k])) / 2,
  };
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
