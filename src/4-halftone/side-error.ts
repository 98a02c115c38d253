import { FRACTION_ONE } from "../core/burn-fraction.js";

/**
 * Error that would leave the picture at its sides goes to the nearest pixel of its row, or of the next row if its row is already
 * done. So the mean holds to the edge.
 *
 * The error that the side pixels receive from above is limited to ±9/16 before their row is done. In a wide bare margin error can
 * only drift to the side, and without a limit it would pile up there. A pixel inside never receives more than 1/2, and flat tints
 * never reach the limit. With the limit all sums fit into 16 bits.
 */
export const MAX_AT_SIDES = (9 * FRACTION_ONE) / 16;

/** Treatment of error at the two ends of a row: in `first` and `last`, and in the margins beside them. */
export interface SideRule {
  readonly clamp: (received: Int16Array | Int32Array, first: number, last: number) => void;
  readonly fold: (received: Int16Array | Int32Array, first: number, last: number) => void;
}

/** For a picture with sides. Error in a margin moves to the pixel beside it. The limit is for one step between two levels. */
export function keptAtSides(levels: number): SideRule {
  const max = Math.floor(MAX_AT_SIDES / (levels - 1));
  return {
    clamp: (received, first, last) => {
      received[first] = Math.min(Math.max(received[first], -max), max);
      received[last] = Math.min(Math.max(received[last], -max), max);
    },
    fold: (received, first, last) => {
      for (let x = 0; x < first; x++) moveTo(received, x, first);
      for (let x = last + 1; x < received.length; x++) moveTo(received, x, last);
    },
  };
}

/** For a closed row. Error in a margin moves to the other end, and nothing piles up. */
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
