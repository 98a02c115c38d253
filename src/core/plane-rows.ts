/**
 * A plane row by row: a call computes row y. Call in rising order; going back is allowed but slow. The array is reused for the
 * next row, so copy what must last.
 */
export type PlaneRows = (y: number) => Float32Array;

/** The same for integer codes. */
export type CodeRows = (y: number) => Uint16Array;

/** The rows of a whole plane. */
export const rowsOfPlane =
  (plane: Float32Array, columns: number): PlaneRows =>
  (y) =>
    plane.subarray(y * columns, (y + 1) * columns);

/** A whole plane from its rows. */
export function planeOfRows(row: PlaneRows, columns: number, rows: number): Float32Array {
  const plane = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++) plane.set(row(y), y * columns);
  return plane;
}

/** Swaps left and right of a whole plane, in place. */
export function mirrorPlane(plane: Uint8Array | Float32Array, columns: number): void {
  for (let from = 0; from < plane.length; from += columns) plane.subarray(from, from + columns).reverse();
}

/** Rows from `firstRow` up to `endRow`, which is not included. */
export interface RowRange {
  readonly firstRow: number;
  readonly endRow: number;
}
