import { FRACTION_ONE } from "../core/burn-fraction.js";

/**
 * Error that would leave the picture at its sides goes to the nearest pixel of the row it was meant for (of the next row, where
 * that one is already done), so that the mean holds to the edge.
 *
 * What the pixels at the sides have received from above is clamped to ±9/16 before their row is done. Beside a wide bare margin
 * error can only drift to the side; there it would pile up without end, for nothing can take it. A pixel inside never receives
 * more than 1/2, and flat tints never come to the limit; with it no sum leaves 16 bits.
 */
export const MAX_AT_SIDES = (9 * FRACTION_ONE) / 16;

/** What becomes of error at the two ends of a row, in `first` and `last` and in the margins beside them. */
export interface SideRule {
  readonly clamp: (received: Int16Array | Int32Array, first: number, last: number) => void;
  readonly fold: (received: Int16Array | Int32Array, first: number, last: number) => void;
}

/** Clamp the two ends of a row's received error to ±`MAX_AT_SIDES`, of a step between levels where there are more than two. */
export function clampSides(
  received: Int16Array | Int32Array,
  first: number,
  last: number,
  max = MAX_AT_SIDES,
): void {
  received[first] = Math.min(Math.max(received[first], -max), max);
  received[last] = Math.min(Math.max(received[last], -max), max);
}

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

/** Of a picture with sides. */
export function keptAtSides(levels: number): SideRule {
  const max = Math.floor(MAX_AT_SIDES / (levels - 1));
  return { clamp: (received, first, last) => clampSides(received, first, last, max), fold: foldSides };
}

/** Of a row that closes on itself: what lies in a margin goes to the other end, and nothing piles up. */
export const goesRound: SideRule = {
  clamp: () => {},
  fold: (received, first, last) => {
    const columns = last + 1 - first;
    for (let x = 0; x < first; x++) moveTo(received, x, x + columns);
    for (let x = last + 1; x < received.length; x++) moveTo(received, x, x - columns);
  },
};

function moveTo(received: Int16Array | Int32Array, from: number, to: number): void {
  received[to] += received[from];
  received[from] = 0;
}
