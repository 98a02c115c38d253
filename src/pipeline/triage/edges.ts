import { CELL_PX, type CellMap } from "./cell-map.js";

/** Smallest contrast of an edge, in 8-bit codes. */
const MIN_CONTRAST = 16;
/** The same over the standard deviation of the difference of two cells. */
const MIN_OVER_NOISE = 6;
/** The largest slope that noise alone makes among the slopes of three cells, over its standard deviation. */
const SLOPE_OF_NOISE = 1.25;

/** Cells on each side of an edge that are looked at. */
const REACH = 3;
/** Share of the contrast of an edge that may be left two cells away. */
const FALLEN = 0.75;

/** Takes the cell of an edge, whether it is met along a row, and its slope per pixel over its contrast. */
export type TakeEdge = (column: number, row: number, edge: Edge) => void;

export interface Edge {
  readonly isAlong: boolean;
  readonly slopeOverContrast: number;
}

/**
 * The edges of a picture at one scale: cells between whose neighbours the contrast is larger than further away, in the direction in
 * which it is larger.
 *
 * @param noise standard deviation of a pixel at this scale
 */
export function visitEdges(map: CellMap, noise: number, take: TakeEdge): void {
  const { columns, rows, mean } = map;
  const least = Math.max(MIN_CONTRAST, (MIN_OVER_NOISE * Math.SQRT2 * noise) / CELL_PX);
  for (let row = REACH; row < rows - REACH; row++) {
    for (let column = REACH; column < columns - REACH; column++) {
      const at = row * columns + column;
      const along = Math.abs(mean[at + 1] - mean[at - 1]);
      const across = Math.abs(mean[at + columns] - mean[at - columns]);
      const contrast = Math.max(along, across);
      // Not a number where something is transparent.
      if (!(contrast > least)) continue;
      const isAlong = along > across;
      const step = isAlong ? 1 : columns;
      if (!isEdge(mean, at, step)) continue;
      const slope = trueSlope(isAlong ? map.slopeAlong : map.slopeAcross, at, step, noise);
      take(column, row, { isAlong, slopeOverContrast: slope / contrast });
    }
  }
}

/** Whether the contrast is largest here, and falls on both sides: a shade that rises evenly is no edge. */
function isEdge(mean: Float32Array, at: number, step: number): boolean {
  const contrast = (cell: number): number => mean[cell + step] - mean[cell - step];
  const here = Math.abs(contrast(at));
  if (Math.abs(contrast(at - step)) > here || Math.abs(contrast(at + step)) > here) return false;
  const sameWay = Math.sign(contrast(at));
  const beside = Math.max(sameWay * contrast(at - 2 * step), sameWay * contrast(at + 2 * step));
  return beside <= FALLEN * here;
}

/** The steepest slope of three cells, without what noise adds to it. */
function trueSlope(slope: Float32Array, at: number, step: number, noise: number): number {
  const steepest = Math.max(slope[at - step], slope[at], slope[at + step]);
  return Math.sqrt(Math.max(0, steepest ** 2 - (SLOPE_OF_NOISE * noise) ** 2));
}
