import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import type { SeenGrid } from "./eye-filter.js";
import { allTiles, type Reach } from "./judged-tiles.js";
import { type VisualError, visualErrorOf } from "./sampled-error.js";
import type { JudgedSums } from "./variation.js";
import { type SlopeRuns, VisualComparison } from "./visual-comparison.js";

/** How planes of luminance factors are compared. */
export interface PlaneComparison extends Omit<SeenGrid, "memory"> {
  /** Default: a new one. */
  readonly memory?: KernelMemory;
  /** See `errorMargin`. Default: 16 pixels. */
  readonly margin?: Reach;
  readonly slope?: SlopeRuns;
}

/**
 * Visual error of several predictions against one target: filtered by the eye, converted to L*, subtracted. Pictures are extended
 * by mirror images beyond their edges. Large pictures are processed in tiles with a halo.
 *
 * @param predictions planes of rows × columns luminance factors, 0..1
 * @param target wanted luminance factors, same shape
 * @param columns of each plane
 */
export function visualErrors(
  predictions: readonly Float32Array[],
  target: Float32Array,
  columns: number,
  grid: PlaneComparison,
): VisualError[] {
  const { tiles, strata } = judgedSums(predictions, target, columns, grid);
  return predictions.map((_, k) => {
    const { rms, bias } = visualErrorOf(tiles, strata, k);
    return { rms, bias };
  });
}

/** The sums from which the errors follow. Parameters as for `visualErrors`. */
export function judgedSums(
  predictions: readonly Float32Array[],
  target: Float32Array,
  columns: number,
  { pitch, viewing, memory = createKernelMemory(), margin, slope }: PlaneComparison,
): JudgedSums {
  const release = memory.mark();
  const picture = { columns, rows: target.length / columns, ...(margin && { margin }) };
  const { tiles, sidePx, strata } = allTiles(picture, { alongPx: 0, acrossPx: 0 });
  const comparison = new VisualComparison({ memory, pitch, viewing }, sidePx, slope);
  for (const tile of tiles) {
    const from = tile.seen.top * columns + tile.seen.left;
    const within = (data: Float32Array) => ({ data, from, stride: columns });
    comparison.add(tile, within(target), predictions.map(within));
  }
  release();
  return { tiles: comparison.sums(), strata };
}
