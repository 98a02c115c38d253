import { boxBlur } from "./box-blur.js";
import type { CoarseGrid } from "./coarse-grid.js";

/** Half the side of the windows, as a share of the picture's longer side. */
const RADIUS_SHARE = 0.04;

/** Differences in L* within a window that are smoothed. Much larger ones are edges, which the base keeps. */
const SMOOTHED_LIGHTNESS = 8;

/** Rounding of running sums in single precision leaves about this much in transparent parts. */
const MIN_WEIGHT = 1e-4;

/** The base of a picture: at each point, its own L* times `slope`, plus `offset`. */
export interface GuidedBase extends CoarseGrid {
  /** 0..1: near 0 in even areas, near 1 at strong edges. */
  readonly slope: Float32Array;
  readonly offset: Float32Array;
}

/**
 * The lightness of each point's surroundings, which ends at edges: a guided filter with the picture as its own guide (K. He, J.
 * Sun, X. Tang, "Guided image filtering", IEEE Trans. PAMI 35(6) (2013), 1397–1409). Slope and offset are computed at low
 * resolution, and applied to the full one (K. He, J. Sun, "Fast guided filter", arXiv:1505.00996 (2015)), so the base has edges
 * where the picture has them.
 *
 * @param lightness [rows × columns] L*
 * @param coverage [rows × columns] 0..1, if the picture has transparent parts. Pixels count by their coverage
 */
export function guidedBase(lightness: Float32Array, grid: CoarseGrid, coverage?: Float32Array): GuidedBase {
  const { columns, rows, closed } = grid;
  const radiusPx = Math.max(1, Math.round(Math.max(columns, rows) * RADIUS_SHARE));
  const blurred = (plane: Float32Array) => boxBlur(plane, columns, rows, radiusPx, closed);
  const weights = coverage && blurred(coverage);
  const meanOf = (plane: Float32Array): Float32Array => {
    if (!coverage || !weights) return blurred(plane);
    const sums = blurred(plane.map((value, i) => value * coverage[i]));
    return sums.map((sum, i) => (weights[i] > MIN_WEIGHT ? sum / weights[i] : plane[i]));
  };
  const mean = meanOf(lightness);
  const meanSquare = meanOf(lightness.map((value) => value * value));
  const slope = meanSquare.map((square, i) => {
    const variance = Math.max(0, square - mean[i] ** 2);
    return variance / (variance + SMOOTHED_LIGHTNESS ** 2);
  });
  const offset = slope.map((value, i) => (1 - value) * mean[i]);
  return { columns, rows, closed, slope: meanOf(slope), offset: meanOf(offset) };
}

/** The base at the points of its own grid. @param lightness what it was made from */
export const baseLightness = ({ slope, offset }: GuidedBase, lightness: Float32Array): Float32Array =>
  lightness.map((own, i) => slope[i] * own + offset[i]);
