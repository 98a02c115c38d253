import type { KernelMemory } from "./kernel-memory.js";

/**
 * A plane row by row: row y, worked out when it is asked for. Ask in rising order; going back is allowed and slow. The array
 * is used again for the next row: copy what has to stay.
 */
export type PlaneRows = (y: number) => Float32Array;

/** The same of integer codes. */
export type CodeRows = (y: number) => Uint16Array;

/** Hands out the rows of a whole plane. */
export const rowsOfPlane =
  (plane: Float32Array, columns: number): PlaneRows =>
  (y) =>
    plane.subarray(y * columns, (y + 1) * columns);

/** Collects rows to a whole plane. */
export function planeOfRows(row: PlaneRows, columns: number, rows: number): Float32Array {
  const plane = new Float32Array(columns * rows);
  for (let y = 0; y < rows; y++) plane.set(row(y), y * columns);
  return plane;
}

/** Swaps left and right of a whole plane, in place. */
export function mirrorPlane(plane: Uint8Array | Float32Array, columns: number): void {
  for (let from = 0; from < plane.length; from += columns) plane.subarray(from, from + columns).reverse();
}

/** Weighted sum of `count` rows. The result is used again by the next call. */
export type RowSummer = (
  count: number,
  rowAt: (k: number) => Float32Array,
  weightAt: (k: number) => number,
) => Float32Array;

/** No bound at all, for single precision. */
const LARGE = 3e38;

/** Sums of up to `most` rows of `values` values, in single precision from the first to the last, held within bounds. */
export function rowSummer(
  memory: KernelMemory,
  most: number,
  values: number,
  low = -LARGE,
  high = LARGE,
): RowSummer {
  const { simd } = memory;
  const addresses = memory.int32(most);
  const weights = memory.float32(most);
  const out = memory.float32(values);

  return (count, rowAt, weightAt) => {
    if (simd) {
      for (let k = 0; k < count; k++) {
        addresses[k] = rowAt(k).byteOffset;
        weights[k] = weightAt(k);
      }
      simd.sumRows(addresses.byteOffset, weights.byteOffset, count, values, low, high, out.byteOffset);
      return out;
    }
    out.fill(0);
    for (let k = 0; k < count; k++) {
      const row = rowAt(k);
      const weight = Math.fround(weightAt(k));
      for (let x = 0; x < values; x++) out[x] += Math.fround(weight * row[x]);
    }
    for (let x = 0; x < values; x++) out[x] = Math.min(high, Math.max(low, out[x]));
    return out;
  };
}
