/**
 * A tile of thresholds that covers the plane: `columns` × `rows` ranks 0..n−1. Each repeat down moves `shift` columns to the
 * right (0 for a plain rectangle). A pixel burns if its fraction reaches (rank + ½) / n.
 */
export interface ThresholdTile {
  readonly columns: number;
  readonly rows: number;
  readonly shift: number;
  /** Row-major ranks. 32 bits for a coarse screen on a fine grid, with more than 65536 pixels per cell. */
  readonly ranks: Uint16Array | Uint32Array;
  /** Number of distinct ranks n. */
  readonly rankCount: number;
}
