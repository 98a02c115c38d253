/** A small pattern of pixels that repeats in both directions. A row is part of a scan line. */
export interface PatternTile {
  readonly columns: number;
  readonly rows: number;
  /** [rows × columns] 0 or 1, or power levels 0..levels − 1. */
  readonly codes: Uint8Array;
}
