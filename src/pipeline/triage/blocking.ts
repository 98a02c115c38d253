import type { Plane } from "../../core/plane.js";
import { type Lines, rowsAndColumns } from "./lines.js";

/** Side of a JPEG block, in pixels. */
const BLOCK = 8;
/** Number of measured rows and columns, evenly spread. */
const LINES = 400;
/** Larger steps are edges of the picture and count as this much. */
const MAX_STEP = 16 * 257;

/**
 * The visibility of JPEG blocks: the mean absolute step across block boundaries over the step within blocks, minus 1; 0 for a
 * picture without blocks. It follows the boundary differences of Z. Wang, H. R. Sheikh, A. C. Bovik,
 * "No-reference perceptual quality assessment of JPEG compressed images", Proc. IEEE ICIP 2002 (from memory), as a ratio to the
 * picture's own activity, for all eight places where the blocks of a cropped picture may begin.
 */
export function blocking(light: Plane<"encoded-luminance", Uint16Array>): number {
  const [along, across] = rowsAndColumns(light).map((lines) => standOut(stepsByPhase(lines)));
  return Math.max(0, Math.min(along, across));
}

/** Mean absolute step from sample i to i + 1 by i mod 8. */
function stepsByPhase({ codes, count, length, lineStep, step }: Lines): Float64Array {
  const sums = new Float64Array(BLOCK);
  const counts = new Float64Array(BLOCK);
  const every = Math.max(1, Math.floor(count / LINES)) | 1;
  for (let line = 0; line < count; line += every) {
    const start = line * lineStep;
    for (let i = 0; i + 1 < length; i++) {
      const difference = Math.abs(codes[start + (i + 1) * step] - codes[start + i * step]);
      sums[i % BLOCK] += Math.min(difference, MAX_STEP);
      counts[i % BLOCK]++;
    }
  }
  return sums.map((sum, phase) => sum / Math.max(1, counts[phase]));
}

function standOut(means: Float64Array): number {
  const sorted = means.slice().sort();
  const median = (sorted[2] + sorted[3] + sorted[4]) / 3;
  return median > 0 ? sorted[BLOCK - 1] / median - 1 : 0;
}
