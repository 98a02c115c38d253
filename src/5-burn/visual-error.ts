import { createKernelMemory } from "../core/kernel-memory.js";
import type { SeenGrid } from "./eye-filter.js";
import { allTiles } from "./judged-tiles.js";
import type { VisualError } from "./sampled-error.js";
import { VisualComparison } from "./visual-comparison.js";

/**
 * Visual error of several predictions against one target: filtered by the eye, converted to L*, subtracted. Pictures are extended
 * by mirror images beyond their edges. Large pictures are processed in tiles with a halo.
 *
 * @param predictions planes of rows × columns luminance factors, 0..1
 * @param target wanted luminance factors, same shape
 * @param columns of each plane
 * @param grid default of `memory`: a new one
 */
export function visualErrors(
  predictions: readonly Float32Array[],
  target: Float32Array,
  columns: number,
  { pitch, viewing, memory = createKernelMemory() }: Omit<SeenGrid, "memory"> & Partial<SeenGrid>,
): VisualError[] {
  const release = memory.mark();
  const picture = { columns, rows: target.length / columns };
  const { tiles, sidePx } = allTiles(picture, { alongPx: 0, acrossPx: 0 });
  const comparison = new VisualComparison({ memory, pitch, viewing }, sidePx, predictions.length);
  for (const tile of tiles) {
    const from = tile.seen.top * columns + tile.seen.left;
    const within = (data: Float32Array) => ({ data, from, stride: columns });
    comparison.add(tile, within(target), predictions.map(within));
  }
  release();
  return comparison.errors(1).map(({ rms, bias }) => ({ rms, bias }));
}
