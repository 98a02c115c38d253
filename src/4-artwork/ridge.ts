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

/** Pixels from the middle of a thin part, along the lines and across. */
export interface Steps {
  readonly along: number;
  readonly across: number;
}

/** Where to look about a pixel for a thin part. */
export interface Look {
  /** 1 for strokes, 0 for gaps between them. */
  readonly ink: 0 | 1;
  readonly pitch: Pitch;
  /** Pixels side by side that are kept of a stroke. */
  readonly run: Steps;
  /** To either side, where a thin part has ended: two blurs, or a run. */
  readonly beside: Steps;
  /** Onwards, where it must still continue: a blur, or a run. */
  readonly onward: Steps;
  /** To either side, all that its coverage spreads over. */
  readonly window: Steps;
}

/** A middle must stand out from both sides together by this share of its own coverage, so that grain is no stroke. */
const MIN_RISE = 0.8;

/** Diagonal strokes, which bend as much either way, are all to be crossed along the lines. */
const DIAGONAL = 0.9;

/**
 * A stroke continues to both sides with at least the first share of its coverage, and to one of them with no more than the
 * second: at a corner one side is bare, and between two shapes both are covered better.
 */
const CONTINUES = [0.5, 1.5] as const;

/**
 * Whether pixel `at` is one of a run in the middle of a stroke or a gap, which leave no gap from one line
 * to the next: of the two directions the one in which the coverage bends more, and there the pixels from half a run before the
 * crest to half a run behind it (non-maximum suppression: J. Canny, "A computational approach to edge detection", IEEE Trans.
 * PAMI 8(6), 679–698, 1986; between the pixels a run away instead of neighbours). The stroke must continue to both sides, or else
 * be a dot: corners of large shapes are no strokes.
 *
 * The width is the coverage summed over the crossing, at right angles: exact for a stroke that stands apart.
 *
 * @param out filled where the result is true
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
  /** Coverage `dx` pixels along and `dy` lines across from here, of ink or of gap. */
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

/** Coverage added up over the pixels from `reach` before to `reach` behind pixel `at`, along the line or across the lines. */
export function summedCoverage(lines: RowsAbout, at: number, along: boolean, reach: number): number {
  const centre = (lines.length - 1) >> 1;
  let sum = 0;
  for (let k = -reach; k <= reach; k++) sum += along ? lines[centre][at + k] : lines[centre + k][at];
  return sum;
}
