/** Steps of ny² in the table of thresholds; ny is the component of the normal across the lines. */
export const NORMAL_STEPS = 4;

/**
 * Thresholds that place the engraved edges of a shape where they are drawn. A pixel burns if its centre lies inside the drawn
 * edge by at least the threshold. The threshold is the distance by which the mark extends past the centres of the last burned
 * pixels. It differs from pixel to pixel, so that an edge can also lie between two rows of pixels.
 *
 *     threshold = mean(n) + rankShare(n) · along[rank] · |nx|    for a vertical edge, which ends runs along the lines
 *     threshold = mean(n) + rankShare(n) · across[rank] · |ny|   for any other edge, which lies between lines
 *
 * n = (nx, ny) is the edge's unit normal in mm, x along the scan lines; `rank` comes from `edgeRank`. An edge is vertical if its
 * normal, in pixels, is nearer to x.
 */
export interface EdgePlacement {
  /** [NORMAL_STEPS + 1] mm, at ny² = 0, ¼, ½, ¾, 1. */
  readonly meanMm: readonly number[];
  /** [EDGE_RANKS] mm, rising: for vertical edges, and for edges between lines. */
  readonly alongMm: readonly number[];
  readonly acrossMm: readonly number[];
  /** Shift of a mark in the direction of travel, in mm, caused by the firing lag. */
  readonly lateMm: number;
  /** Number of adjacent pixels that are needed to leave a mark. */
  readonly minRunPx: { readonly along: number; readonly across: number };
  /** Width of the mark of that many pixels, in mm. */
  readonly thinnestMarkMm: { readonly along: number; readonly across: number };
  /** Drawn gaps narrower than this close, at least in places, in mm. */
  readonly closingGapMm: { readonly along: number; readonly across: number };
  /** Largest distance of an engraved edge from the drawn one, in mm: half the largest step in which an edge moves. */
  readonly toleranceMm: { readonly along: number; readonly across: number };
}
