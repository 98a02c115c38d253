import type { Pitch } from "../core/plane.js";

/** Rows of a field about one of them: `lines[reach + k]` is the row k below. */
export type RowsAbout = readonly Float32Array[];

/** A thin stroke, or a thin gap between strokes, as it is crossed at one pixel of its middle. */
export interface Crossing {
  /** Whether it is crossed along the scan line, or from line to line. */
  along: boolean;
  /** Width at right angles to it, and its length by this pixel, in mm. */
  widthMm: number;
  lengthMm: number;
}

/** A middle must stand out from both sides by this share of its own coverage, so that grain is no stroke. */
const LEAST_RISE = 0.3;

/**
 * Whether pixel `at` is one of `runPx` in the middle of a stroke (`ink` = 1) or a gap (`ink` = 0), which leave no gap from one
 * line to the next: of the two directions the one in which the coverage bends more, and there the pixels from half a run before
 * the crest to half a run behind it (non-maximum suppression: J. Canny, "A computational approach to edge detection", IEEE
 * Trans. PAMI 8(6), 679–698, 1986; between the pixels `runPx` to either side instead of neighbours).
 *
 * The width is the coverage summed over the crossing, at right angles: exact for a stroke that stands apart.
 *
 * @param windowPx pixels to either side that the sum takes in
 * @param out filled where the result is true
 */
export function crossesThinPart(
  lines: RowsAbout,
  at: number,
  ink: 0 | 1,
  run: { readonly along: number; readonly across: number },
  windowPx: { readonly along: number; readonly across: number },
  { alongMm, acrossMm }: Pitch,
  out: Crossing,
): boolean {
  const reach = (lines.length - 1) >> 1;
  const here = lines[reach];
  const bare = 1 - ink;
  const sign = ink ? 1 : -1;
  const middle = bare + sign * here[at];
  const before = bare + sign * here[at - run.along];
  const behind = bare + sign * here[at + run.along];
  const above = bare + sign * lines[reach - run.across][at];
  const below = bare + sign * lines[reach + run.across][at];
  const riseAlong = 2 * middle - before - behind;
  const riseAcross = 2 * middle - above - below;
  const bendAlong = riseAlong / (run.along * alongMm) ** 2;
  const bendAcross = riseAcross / (run.across * acrossMm) ** 2;
  const least = LEAST_RISE * middle;
  out.along = bendAlong >= bendAcross;
  if (out.along) {
    if (!(middle >= before && middle > behind && riseAlong > least)) return false;
    const cosine = Math.sqrt(bendAlong / (bendAlong + Math.max(0, bendAcross)));
    let sum = 0;
    for (let k = -windowPx.along; k <= windowPx.along; k++) sum += bare + sign * here[at + k];
    out.widthMm = sum * alongMm * cosine;
    out.lengthMm = acrossMm / (cosine * run.along);
    return true;
  }
  if (!(middle >= above && middle > below && riseAcross > least)) return false;
  const cosine = Math.sqrt(bendAcross / (bendAcross + Math.max(0, bendAlong)));
  let sum = 0;
  for (let k = -windowPx.across; k <= windowPx.across; k++) sum += bare + sign * lines[reach + k][at];
  out.widthMm = sum * acrossMm * cosine;
  out.lengthMm = alongMm / (cosine * run.across);
  return true;
}
