import { FRACTION_ONE } from "../core/burn-fraction.js";

/**
 * Error that would leave the picture at its sides goes to the nearest pixel of the row it was meant for (of the next row, where
 * that one is already done), so that the mean holds to the edge.
 *
 * What the pixels at the sides have received from above is held to ±9/16 before their row is done. Beside a wide bare margin
 * error can only drift to the side; there it would pile up without end, for nothing can take it. A pixel inside never receives
 * more than 1/2, and flat tints never come to the limit; with it no sum leaves 16 bits.
 */
export const MOST_AT_SIDES = (9 * FRACTION_ONE) / 16;

/** Hold the two ends of a row's received error to ±`MOST_AT_SIDES`, of a step between levels where there are more than two. */
export function holdSides(
  received: Int16Array | Int32Array,
  first: number,
  last: number,
  most = MOST_AT_SIDES,
): void {
  received[first] = Math.min(Math.max(received[first], -most), most);
  received[last] = Math.min(Math.max(received[last], -most), most);
}

/** `MOST_AT_SIDES` of a step between two of n levels. */
export const mostAtSides = (levels: number): number => Math.floor(MOST_AT_SIDES / (levels - 1));

/** Move what lies in the margins beside `first` and `last` to these two. */
export function foldSides(received: Int16Array | Int32Array, first: number, last: number): void {
  for (let x = 0; x < first; x++) {
    received[first] += received[x];
    received[x] = 0;
  }
  for (let x = last + 1; x < received.length; x++) {
    received[last] += received[x];
    received[x] = 0;
  }
}
