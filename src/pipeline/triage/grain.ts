import type { CellMap } from "./cell-map.js";
import type { SpotPicture } from "./spot-picture.js";

/** Side of a region, in cells of the finer scale. */
const REGION_CELLS = 4;
/** Codes at the ends of the scale, where noise is cut off. */
const ENDS = [8, 247] as const;
/** The evenest share of the regions at half the scale, which has the least texture beside noise. */
const EVEN = 0.25;
/**
 * Variance of white noise at half the scale, in such regions. There a region has 16 independent details, and the lowest quarter of
 * their sums of squares, a χ² of 16 degrees of freedom, has 0.593 of the mean.
 */
const WHITE_AT_HALF = 0.593 / 4;

/** Noise of a picture, as standard deviations of a pixel in 8-bit codes. */
export interface Grain {
  /** What may be noise: the diagonal detail of even regions. Nothing below it counts as detail. */
  readonly floor: number;
  /** What is noise: fine detail of even regions that is not there at half the scale. */
  readonly grain: number;
  /** Grain over the standard deviation of the picture's own tones. */
  readonly overTones: number;
}

/**
 * Noise of a picture from its maps at its own scale and at half of it. White noise has a quarter of its variance at half the scale.
 * Detail of photographs has as much there as before (D. J. Field, "Relations between the statistics of natural images and the
 * response properties of cortical cells", J. Opt. Soc. Am. A 4, 1987; from memory). So the difference comes from noise.
 *
 * @param whiteShares of the picture: see `SpotPicture`
 */
export function grainOf(fine: CellMap, coarse: CellMap, [own, half]: SpotPicture["whiteShares"]): Grain {
  const regions = diagonalsOf(fine, coarse);
  if (regions.length === 0) return { floor: 0, grain: 0, overTones: 0 };
  const even = Math.ceil(EVEN * regions.length);
  const finest = regions.map(([detail]) => detail).sort((a, b) => a - b);
  const evenest = regions.sort(([, a], [, b]) => a - b).slice(0, even);
  const excess = evenest.reduce((sum, [detail, coarser]) => sum + detail - coarser, 0) / even;
  const grain = Math.sqrt(Math.max(0, excess) / (own - WHITE_AT_HALF * half));
  const overTones = grain / Math.max(1e-6, deviationOf(fine.mean));
  return { floor: Math.sqrt(finest[even - 1]), grain, overTones };
}

/** Mean diagonal detail of each region, at the scale of the picture and at half of it. */
function diagonalsOf(fine: CellMap, coarse: CellMap): (readonly [detail: number, half: number])[] {
  const regions: (readonly [number, number])[] = [];
  for (let row = 0; row + REGION_CELLS <= fine.rows; row += REGION_CELLS) {
    for (let column = 0; column + REGION_CELLS <= fine.columns; column += REGION_CELLS) {
      const mean = meanOver(fine, fine.mean, [column, row], REGION_CELLS);
      // Not a number where something is transparent.
      if (!(mean > ENDS[0] && mean < ENDS[1])) continue;
      const detail = meanOver(fine, fine.diagonal, [column, row], REGION_CELLS);
      regions.push([detail, meanOver(coarse, coarse.diagonal, [column / 2, row / 2], REGION_CELLS / 2)]);
    }
  }
  return regions;
}

type Cell = readonly [column: number, row: number];

function meanOver(map: CellMap, values: Float32Array, [left, top]: Cell, side: number): number {
  let sum = 0;
  for (let row = top; row < top + side; row++) {
    for (let column = left; column < left + side; column++) sum += values[row * map.columns + column];
  }
  return sum / side ** 2;
}

function deviationOf(values: Float32Array): number {
  let [count, sum, squares] = [0, 0, 0];
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    count++;
    sum += value;
    squares += value * value;
  }
  return Math.sqrt(Math.max(0, squares / count - (sum / count) ** 2));
}
