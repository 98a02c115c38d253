import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { ClassMatrix } from "./class-matrices.js";

/** Shares by neighbour: 2 to an edge neighbour, 1 to a corner neighbour. */
const NEIGHBOURS = [
  [-1, -1, 1],
  [0, -1, 2],
  [1, -1, 1],
  [-1, 0, 2],
  [1, 0, 2],
  [-1, 1, 1],
  [0, 1, 2],
  [1, 1, 1],
] as const;

/** A place of the class matrix, with its later neighbours and its wait for the earlier ones. */
export interface DotCell {
  readonly x: number;
  readonly y: number;
  /** Later neighbours with the weights of their shares, in 16384ths. The last one takes the rest. */
  readonly later: readonly { readonly dx: number; readonly dy: number; readonly weight: number }[];
  /**
   * Rows below a pixel that must be known before it is decided, 1 or more: a pixel waits for its earlier neighbours, these wait
   * for theirs, and so on.
   */
  readonly lagRows: number;
}

/** The cells of a class matrix in the order of their decisions. */
export function planDots(classes: ClassMatrix): readonly DotCell[] {
  const side = classes.length;
  const wrap = (i: number) => (i + side) % side;
  const classOf = (x: number, y: number) => classes[wrap(y)][wrap(x)];
  const order = Array.from({ length: side * side }, (_, cell) => cell).sort(
    (a, b) => classOf(a % side, Math.floor(a / side)) - classOf(b % side, Math.floor(b / side)),
  );
  const lags = new Int32Array(side * side);
  return order.map((cell) => {
    const x = cell % side;
    const y = Math.floor(cell / side);
    const isLater = (dx: number, dy: number) => classOf(x + dx, y + dy) > classOf(x, y);
    const later = NEIGHBOURS.filter(([dx, dy]) => isLater(dx, dy));
    const earlier = NEIGHBOURS.filter(([dx, dy]) => !isLater(dx, dy));
    const sum = later.reduce((total, [, , weight]) => total + weight, 0);
    const lagRows = Math.max(1, ...earlier.map(([dx, dy]) => lags[wrap(y + dy) * side + wrap(x + dx)] + dy));
    lags[cell] = lagRows;
    return {
      x,
      y,
      later: later.map(([dx, dy, weight]) => ({ dx, dy, weight: Math.round((FRACTION_ONE * weight) / sum) })),
      lagRows,
    };
  });
}
