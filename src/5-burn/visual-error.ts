import { createKernelMemory } from "../core/kernel-memory.js";
import type { Pitch } from "../core/plane.js";
import type { Viewing } from "./eye-filter.js";
import { allPieces } from "./pieces.js";
import type { VisualError } from "./sampled-error.js";
import { VisualComparison } from "./visual-comparison.js";

export type { VisualError } from "./sampled-error.js";

/**
 * Visual error of several predictions against one target: all filtered by the eye, turned to L*, differenced. Pictures are
 * continued beyond their edges by their mirror images. Large pictures go piece by piece with a halo.
 *
 * @param predictions planes of rows × columns luminance factors
 * @param target wanted luminance factors, same shape
 */
export function visualErrors(
  predictions: readonly Float32Array[],
  target: Float32Array,
  columns: number,
  rows: number,
  pitch: Pitch,
  viewing: Viewing,
  memory = createKernelMemory(),
): VisualError[] {
  const release = memory.mark();
  const { pieces, sidePx } = allPieces(columns, rows, { alongPx: 0, acrossPx: 0 });
  const comparison = new VisualComparison(memory, sidePx, pitch, viewing, predictions.length);
  for (const piece of pieces) {
    const from = piece.seen.top * columns + piece.seen.left;
    const within = (data: Float32Array) => ({ data, from, stride: columns });
    comparison.add(piece, within(target), predictions.map(within));
  }
  release();
  return comparison.errors(1).map(({ rms, bias }) => ({ rms, bias }));
}
