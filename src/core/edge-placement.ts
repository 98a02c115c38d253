/** How many parts the square of the normal's component across is divided into where thresholds are tabulated. */
export const NORMAL_STEPS = 4;

/**
 * What puts the engraved edges of a shape where they are drawn. A pixel burns where its centre lies at least a threshold inside
 * the drawn edge; the threshold is the distance that the mark grows past the centres of the last burned pixels, and differs by
 * pixel so that an edge also comes to lie between two rows of pixels.
 *
 *     threshold = mean(n) + rankShare(n) · along[rank] · |nx|    where the edge is vertical: it ends the runs along the lines
 *     threshold = mean(n) + rankShare(n) · across[rank] · |ny|   elsewhere: it lies between lines
 *
 * n = (nx, ny) is the edge's unit normal in mm, x along the scan lines, and `rank` that of `edgeRank`. An edge is vertical
 * where its normal, in pixels, is nearer to x.
 */
export interface EdgePlacement {
  /** [NORMAL_STEPS + 1] mm, at ny² = 0, ¼, ½, ¾, 1. */
  readonly meanMm: readonly number[];
  /** [EDGE_RANKS] mm, rising: for edges that end the runs along a line, and for those between lines. */
  readonly alongMm: readonly number[];
  readonly acrossMm: readonly number[];
  /** How far the mark of a line lies off in the direction of travel, in mm: the firing lag's doing. */
  readonly lateMm: number;
  /** Pixels side by side that it takes to leave a mark. */
  readonly minRunPx: { readonly along: number; readonly across: number };
  /** Width of the mark that these leave, in mm. */
  readonly thinnestMarkMm: { readonly along: number; readonly across: number };
  /** Narrower drawn gaps close, at least here and there, in mm. */
  readonly closingGapMm: { readonly along: number; readonly across: number };
  /** Half the largest step in which an edge moves, in mm: how far it may lie from where it is drawn. */
  readonly toleranceMm: { readonly along: number; readonly across: number };
}
