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
 * A stroke goes on to both sides with at least this share of its coverage, and to one of them with at most so many times as
 * much: at a corner one side is bare, and between two shapes both are covered better.
 */
const GOES_ON = [0.5, 1.5] as const;

/**
 * Whether pixel `at` is one of `runPx` in the middle of a stroke (`ink` = 1) or a gap (`ink` = 0), which leave no gap from one
 * line to the next: of the two directions the one in which the coverage bends more, and there the pixels from half a run before
 * the crest to half a run behind it (non-maximum suppression: J. Canny, "A computational approach to edge detection", IEEE
 * Trans. PAMI 8(6), 679–698, 1986; between the pixels `runPx` to either side instead of neighbours). The stroke must go on to
 * both sides, or else be a dot: corners of large shapes are no strokes.
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
  const centre = (lines.length - 1) >> 1;
  const bare = 1 - ink;
  const sign = ink ? 1 : -1;
  /** Coverage `dx` pixels along and `dy` lines across from here, of ink or of gap. */
  const value = (dx: number, dy: number): number => bare + sign * lines[centre + dy][at + dx];
  const middle = value(0, 0);
  const before = value(-run.along, 0);
  const behind = value(run.along, 0);
  const above = value(0, -run.across);
  const below = value(0, run.across);
  const riseAlong = 2 * middle - before - behind;
  const riseAcross = 2 * middle - above - below;
  const bendAlong = riseAlong / (run.along * alongMm) ** 2;
  const bendAcross = riseAcross / (run.across * acrossMm) ** 2;
  const along = bendAlong >= bendAcross;
  const crest = along ? middle >= before && middle > behind : middle >= above && middle > below;
  if (!crest || (along ? riseAlong : riseAcross) <= LEAST_RISE * middle) return false;

  const onward = along
    ? (side: number) =>
        Math.max(
          value(-run.along, side * run.across),
          value(0, side * run.across),
          value(run.along, side * run.across),
        )
    : (side: number) =>
        Math.max(
          value(side * run.along, -run.across),
          value(side * run.along, 0),
          value(side * run.along, run.across),
        );
  const [one, other] = [onward(-1), onward(1)];
  const isDot = one <= middle && other < middle;
  const onwards = Math.min(one, other) / middle;
  if (!isDot && (onwards < GOES_ON[0] || onwards > GOES_ON[1])) return false;

  const [bend, bendBeside] = along ? [bendAlong, bendAcross] : [bendAcross, bendAlong];
  const cosine = Math.sqrt(bend / (bend + Math.max(0, bendBeside)));
  const reach = along ? windowPx.along : windowPx.across;
  let sum = 0;
  for (let k = -reach; k <= reach; k++) sum += along ? value(k, 0) : value(0, k);
  out.along = along;
  out.widthMm = sum * (along ? alongMm : acrossMm) * cosine;
  out.lengthMm = along ? acrossMm / (cosine * run.along) : alongMm / (cosine * run.across);
  return true;
}
