/** Sums of a picture over the rectangle from its corner to each grid point: (columns + 1) × (rows + 1). F. C. Crow, SIGGRAPH 1984. */
export interface CornerSums {
  readonly columns: number;
  readonly rows: number;
  readonly sums: Float64Array;
}

/** Room for the sums of a picture. */
export function emptySums(columns: number, rows: number): CornerSums {
  return { columns, rows, sums: new Float64Array((columns + 1) * (rows + 1)) };
}

/** @param plane row-major, columns × rows; @param out of the same size, overwritten */
export function sumFromCorner(plane: Float32Array, { columns, rows, sums }: CornerSums): void {
  const stride = columns + 1;
  for (let y = 0; y < rows; y++) {
    let rowSum = 0;
    for (let x = 0, at = y * stride + 1; x < columns; x++, at++) {
      rowSum += plane[y * columns + x];
      sums[at + stride] = sums[at] + rowSum;
    }
  }
}

/** Places of apertures: enough for a spread that is known within 3 %, even if every aperture differs from all others. */
const PLACES = 1000;

/** Steps from place to place, as parts of the range: 1/p and 1/p² with p³ = p + 1. */
const STEP_ALONG = 0.7548776662466927;
const STEP_ACROSS = 0.5698402909980532;

/**
 * Means of a picture in rectangular apertures all over it. Apertures in regular steps could lock to the period of a screen and see
 * only some of its phases. So their places follow irrational steps, which cover the picture evenly and meet all phases (additive
 * recurrence; H. Weyl, Math. Ann. 77, 313 (1916)).
 *
 * Their first edges are edges of pixels. Their sides need not be whole pixels: the last pixels count by the part inside.
 *
 * @param alongPx side of an aperture along the rows, in pixels; @param acrossPx across the rows
 * @returns one mean for each place; none if the aperture is larger than the picture
 */
export function apertureMeans(picture: CornerSums, alongPx: number, acrossPx: number): Float64Array {
  const stride = picture.columns + 1;
  const along = spanOf(alongPx, picture.columns);
  const across = spanOf(acrossPx, picture.rows);
  const means = new Float64Array(Math.min(along.places, across.places) > 0 ? PLACES : 0);
  const perPixel = 1 / (alongPx * acrossPx);
  for (let n = 0, atAlong = 0, atAcross = 0; n < means.length; n++) {
    const top = Math.floor(atAcross * across.places) * stride + Math.floor(atAlong * along.places);
    const bottom = top + across.whole * stride;
    const above = sumAlong(picture.sums, top, along);
    const within = sumAlong(picture.sums, bottom, along);
    const beyond = sumAlong(picture.sums, bottom + stride, along);
    means[n] = (within - above + (beyond - within) * across.part) * perPixel;
    atAlong += atAlong < 1 - STEP_ALONG ? STEP_ALONG : STEP_ALONG - 1;
    atAcross += atAcross < 1 - STEP_ACROSS ? STEP_ACROSS : STEP_ACROSS - 1;
  }
  return means;
}

/** A side of an aperture: whole pixels before its last one, the part of that one, and the number of places that it fits in. */
interface Span {
  readonly whole: number;
  readonly part: number;
  readonly places: number;
}

function spanOf(sidePx: number, pictureSidePx: number): Span {
  const pixels = Math.ceil(sidePx - 1e-9);
  return { whole: pixels - 1, part: sidePx - (pixels - 1), places: pictureSidePx - pixels + 1 };
}

/** Sum from the top of the picture over the width of the aperture. @param at its left edge */
function sumAlong(sums: Float64Array, at: number, { whole, part }: Span): number {
  const last = sums[at + whole];
  return last + (sums[at + whole + 1] - last) * part - sums[at];
}
