/**
 * Steps in which an edge moves over one pixel: 0 to 6 of seven neighbours along it are burned before the next row of pixels
 * begins. Prime, so that rows, columns and both diagonals of the pattern hold every rank.
 */
export const EDGE_RANKS = 7;

/** Ranks of seven neighbours along an edge: up to three that burn stand apart, and then up to three that do not. */
const ORDER = [0, 3, 5, 1, 6, 2, 4] as const;

/**
 * Rank 0..6 of pixel (x, y), whole numbers from 0: where a shape's edge lies between two rows of pixels, those of low rank
 * burn first. Along an edge the ranks follow each other as in `ORDER`, moved by three from one row to the next.
 *
 * @param vertical for an edge that runs from line to line rather than along the lines
 */
export const edgeRank = (x: number, y: number, vertical: boolean): number =>
  ORDER[(vertical ? 3 * x + y : x + 3 * y) % EDGE_RANKS];

/** Slopes of edges on which pixels fall into few rows, how far from them others still do, and the share of the ranks they need. */
const COARSE_SLOPES = [
  { slope: 0, within: 0.15, share: 1 },
  { slope: 1 / 2, within: 0.05, share: 0.5 },
  { slope: 1, within: 0.1, share: 1 },
] as const;

/**
 * How much of the ranks an edge of this direction needs, 0..1. Most slanted edges meet pixels at every distance, and their own
 * steps even out where they lie; ranks would only roughen them. Along the axes, the diagonals and slopes of 1 to 2 pixels lie
 * in rows 1, 0.71 and 0.45 of a pixel apart.
 *
 * @param shareX, shareY squares of the components of the edge's normal in pixels, of any length
 */
export function rankShare(shareX: number, shareY: number): number {
  const slope = Math.sqrt(shareX < shareY ? shareX / shareY : shareY / shareX);
  let share = 0;
  for (const coarse of COARSE_SLOPES) {
    share = Math.max(share, coarse.share * (1 - Math.abs(slope - coarse.slope) / coarse.within));
  }
  return share;
}
