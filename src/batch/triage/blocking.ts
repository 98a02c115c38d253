import { columnsOf, denseData, type Plane, rowsOf } from "../../core/plane.js";

/** Side of the blocks that JPEG codes, in pixels. */
const BLOCK = 8;
/** Rows and columns looked at, evenly spread. */
const LINES = 400;
/** Steps larger than this are edges of the picture, and count as this much. */
const MOST_STEP = 16 * 257;

/**
 * How far the steps between JPEG blocks stand out: mean absolute step across block boundaries over that within blocks, less 1;
 * 0 for a picture without blocks. After the boundary differences of Z. Wang, H. R. Sheikh, A. C. Bovik, "No-reference perceptual
 * quality assessment of JPEG compressed images", Proc. IEEE ICIP 2002 (from memory), as a ratio to the picture's own activity and
 * for all eight places where a cropped picture's blocks may begin.
 */
export function blocking(light: Plane<"encoded-luminance", Uint16Array>): number {
  const codes = denseData(light);
  const [rows, columns] = [rowsOf(light), columnsOf(light)];
  const along = stepsByPhase(codes, rows, columns, columns, 1);
  const across = stepsByPhase(codes, columns, rows, 1, columns);
  return Math.max(0, Math.min(standOut(along), standOut(across)));
}

/** Mean absolute step from sample i to i + 1 by i mod 8. */
function stepsByPhase(codes: Uint16Array, lines: number, length: number, lineStep: number, step: number) {
  const sums = new Float64Array(BLOCK);
  const counts = new Float64Array(BLOCK);
  const every = Math.max(1, Math.floor(lines / LINES)) | 1;
  for (let line = 0; line < lines; line += every) {
    const start = line * lineStep;
    for (let i = 0; i + 1 < length; i++) {
      const difference = Math.abs(codes[start + (i + 1) * step] - codes[start + i * step]);
      sums[i % BLOCK] += Math.min(difference, MOST_STEP);
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
