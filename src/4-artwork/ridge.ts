import type { Pitch } from "../core/plane.js";

/** A row and its neighbours: `lines[reach + k]` is k rows below it. */
export type RowsAbout = readonly Float32Array[];

/** A thin stroke, or a thin gap between strokes, at one pixel of its middle. */
export interface Crossing {
  /** True if it is crossed along the scan line, false if across the lines. */
  along: boolean;
  /** Width at right angles to it, and the length that this pixel contributes, in mm. */
  widthMm: number;
  lengthMm: number;
}

/** Distances in pixels, along the lines and across. */
export interface Steps {
  readonly along: number;
  readonly across: number;
}

/** Parameters of the search for a thin part around a pixel. */
export interface Look {
  /** 1 for strokes, 0 for gaps between them. */
  readonly ink: 0 | 1;
  readonly pitch: Pitch;
  /** Number of adjacent pixels that a thin stroke keeps. */
  readonly run: Steps;
  /** Distance on either side at which a thin part has ended: two blurs, or a run. */
  readonly beside: Steps;
  /** Distance at which it must still continue: a blur, or a run. */
  readonly onward: Steps;
  /** Distance on either side that contains all of its coverage. */
  readonly window: Steps;
}

/** The middle must exceed both sides together by this share of its coverage, so that grain does not count as a stroke. */
const MIN_RISE = 0.8;

/** Diagonal strokes have nearly equal curvature in both directions. They are all crossed along the lines. */
const DIAGONAL = 0.9;

/**
 * Limits of the smaller continuation of a stroke, as a share of its coverage. At a corner one side is bare (below the first), and
 * between two shapes both sides have more coverage (above the second).
 */
const CONTINUES = [0.5, 1.5] as const;

/**
 * Whether pixel `at` belongs to the run of pixels in the middle of a thin stroke or gap. It is crossed in the direction in which
 * the coverage has more curvature. There the run extends from half a run before the ridge to half a run after it (non-maximum
 * suppression: J. Canny, "A computational approach to edge detection", IEEE Trans. PAMI 8(6), 679–698, 1986; here the pixels a run
 * away are compared, not the neighbours). The stroke must continue on both sides or be a dot: corners of large shapes are no
 * strokes.
 *
 * The width is the coverage summed at right angles to the stroke. It is exact for a stroke that stands alone.
 *
 * @param out filled if the result is true
 */
export function crossesThinPart(
  lines: RowsAbout,
  at: number,
  { ink, pitch, run, beside, onward, window }: Look,
  out: Crossing,
): boolean {
  const { alongMm, acrossMm } = pitch;
  const centre = (lines.length - 1) >> 1;
  const bare = 1 - ink;
  const sign = ink ? 1 : -1;
  /** Coverage of ink or of gap, `dx` pixels along and `dy` lines across from here. */
  const value = (dx: number, dy: number): number => bare + sign * lines[centre + dy][at + dx];
  const middle = value(0, 0);
  const riseAlong = (step: number): number => 2 * middle - value(-step, 0) - value(step, 0);
  const riseAcross = (step: number): number => 2 * middle - value(0, -step) - value(0, step);
  const { along: dx, across: dy } = onward;
  const bendAlong = riseAlong(dx) / (dx * alongMm) ** 2;
  const bendAcross = riseAcross(dy) / (dy * acrossMm) ** 2;
  const along = bendAlong >= DIAGONAL * bendAcross;
  const rise = along ? riseAlong(beside.along) : riseAcross(beside.across);
  if (rise <= MIN_RISE * middle) return false;
  const onCrest = along
    ? middle >= value(-run.along, 0) && middle > value(run.along, 0)
    : middle >= value(0, -run.across) && middle > value(0, run.across);
  if (!onCrest) return false;

  const max = (a: number, b: number, c: number): number => Math.max(a, b, c);
  const one = along
    ? max(value(-dx, -dy), value(0, -dy), value(dx, -dy))
    : max(value(-dx, -dy), value(-dx, 0), value(-dx, dy));
  const other = along
    ? max(value(-dx, dy), value(0, dy), value(dx, dy))
    : max(value(dx, -dy), value(dx, 0), value(dx, dy));
  const isDot = one <= middle && other < middle;
  const onwards = Math.min(one, other) / middle;
  if (!isDot && (onwards < CONTINUES[0] || onwards > CONTINUES[1])) return false;

  const [bend, bendBeside] = along ? [bendAlong, bendAcross] : [bendAcross, bendAlong];
  const cosine = Math.sqrt(bend / (bend + Math.max(0, bendBeside)));
  const reach = along ? window.along : window.across;
  const sum = bare * (2 * reach + 1) + sign * summedCoverage(lines, at, along, reach);
  out.along = along;
  out.widthMm = sum * (along ? alongMm : acrossMm) * cosine;
  out.lengthMm = along ? acrossMm / (cosine * run.along) : alongMm / (cosine * run.across);
  return true;
}

/** Sum of the coverage from `reach` pixels before to `reach` pixels after pixel `at`, along the line or across the lines. */
export function summedCoverage(lines: RowsAbout, at: number, along: boolean, reach: number): number {
  const centre = (lines.length - 1) >> 1;
  let sum = 0;
  for (let k = -reach; k <= reach; k++) sum += along ? lines[centre][at + k] : lines[centre + k][at];
  return sum;
}
