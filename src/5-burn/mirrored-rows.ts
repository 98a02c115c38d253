import { modulo } from "../core/modulo.js";

/** Sources of `count` neighbours in a row that is extended by its mirror images (the edge sample twice). */
export interface Mirrored {
  /** Index in the row, 0..length−1, of each. */
  readonly index: Int32Array;
  /** Places `from` to `end` are inside the row, in sequence. */
  readonly from: number;
  readonly end: number;
}

/** @param first place of the first neighbour in the row, 0 or less */
export function mirrored(first: number, length: number, count: number): Mirrored {
  const period = 2 * length;
  const index = Int32Array.from({ length: count }, (_, i) => {
    const folded = modulo(first + i, period);
    return folded < length ? folded : period - 1 - folded;
  });
  return { index, from: -first, end: Math.min(count, length - first) };
}

/** A plane that is read row by row. `from` is the index of its first value, `stride` the values from one row to the next. */
export interface StridedPlane {
  readonly data: Float32Array;
  readonly from: number;
  readonly stride: number;
}

/** Copies row y of a plane, extended to the sides, to `out[to]` and on. */
export function copyMirrored(
  { data, from, stride }: StridedPlane,
  y: number,
  x: Mirrored,
  out: Float32Array,
  to: number,
): void {
  const row = from + y * stride;
  const within = row + x.index[x.from];
  for (let i = 0; i < x.from; i++) out[to + i] = data[row + x.index[i]];
  out.set(data.subarray(within, within + x.end - x.from), to + x.from);
  for (let i = x.end; i < x.index.length; i++) out[to + i] = data[row + x.index[i]];
}
