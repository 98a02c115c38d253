/**
 * Number of steps in which an edge moves by one pixel: 0 to 6 of every seven pixels along the edge burn before the next row of
 * pixels begins. The number is prime, so rows, columns and both diagonals of the pattern contain every rank.
 */
export const EDGE_RANKS = 7;

/** Ranks of seven neighbours along an edge. Up to three burned pixels are separate; after that, up to three unburned ones. */
const ORDER = [0, 3, 5, 1, 6, 2, 4] as const;

/**
 * Rank 0..6 of pixel (x, y), whole numbers from 0. If the edge of a shape lies between two rows of pixels, low ranks burn first.
 * Along an edge the ranks follow `ORDER`, shifted by three from one row to the next.
 *
 * @param vertical true for an edge across the scan lines
 */
export const edgeRank = (x: number, y: number, vertical: boolean): number =>
  ORDER[(vertical ? 3 * x + y : x + 3 * y) % EDGE_RANKS];

/** Slopes at which the pixels of an edge lie in few rows, the range around each slope, and the share of the ranks it needs. */
const COARSE_SLOPES = [
  { slope: 0, within: 0.15, share: 1 },
  { slope: 1 / 2, within: 0.05, share: 0.5 },
  { slope: 1, within: 0.1, share: 1 },
] as const;

/**
 * Share of the ranks that an edge of this direction needs, 0..1. Most slanted edges pass pixels at every distance, so their own
 * steps average out; ranks would only roughen them. At the axes, the diagonals and slopes of 1 to 2, pixels lie in rows 1, 0.71
 * and 0.45 pixels apart.
 *
 * @param shareX, shareY squared components of the edge's normal in pixels, of any length
 */
export function rankShare(shareX: number, shareY: number): number {
  const slope = Math.sqrt(shareX < shareY ? shareX / shareY : shareY / shareX);
  let share = 0;
  for (const coarse of COARSE_SLOPES) {
    share = Math.max(share, coarse.share * (1 - Math.abs(slope - coarse.slope) / coarse.within));
  }
  return share;
}
