import { modulo } from "../core/modulo.js";
import type { ThresholdTile } from "./ordered.js";

/** A vector on the pixel grid. */
export type Step = readonly [x: number, y: number];

/** The two sides of a cell. They span the lattice of all cells. */
export type Cell = readonly [a: Step, b: Step];

export const cross = (a: Step, b: Step): number => a[0] * b[1] - a[1] * b[0];

export function greatestCommonDivisor(p: number, q: number): number {
  return q === 0 ? Math.abs(p) : greatestCommonDivisor(q, p % q);
}

/** Where a pixel lies: in the cell whose centre is nearest, and where in its dot. */
export interface LatticePlace {
  /** The cell's centre is at i·a + j·b. */
  readonly i: number;
  readonly j: number;
  /** Twice the cosine spot function (cos πu + cos πv)/2 of ISO 32000-1, 10.5.5. The pixels of largest value burn first. */
  readonly spot: number;
  /** Angle around the centre, for pixels of equal spot value. */
  readonly angle: number;
}

/** @param index pixel of a tile, row by row */
export function latticePlace(index: number, columns: number, [a, b]: Cell): LatticePlace {
  const x = (index % columns) + 0.5;
  const y = Math.floor(index / columns) + 0.5;
  const determinant = cross(a, b);
  const alongA = (x * b[1] - y * b[0]) / determinant;
  const alongB = (y * a[0] - x * a[1]) / determinant;
  const [i, j] = [Math.round(alongA), Math.round(alongB)];
  // Rounded: a pixel and its mirror image, or its copy in the next cell, then tie on every machine.
  const [u, v] = [rounded(alongA - i), rounded(alongB - j)];
  const spot = rounded(Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v));
  return { i, j, spot, angle: rounded(Math.atan2(v, u)) };
}

/** To nine decimals, and never −0: atan2 would give −0 the opposite angle. */
const rounded = (value: number): number => Math.round(value * 1e9) / 1e9 + 0;

/** A tile whose pixels burn in the order given, each repeat down moved by `shift` columns. */
export function tileInOrder(
  columns: number,
  rows: number,
  shift: number,
  order: readonly { readonly index: number }[],
): ThresholdTile {
  const ranks = new Uint32Array(order.length);
  order.forEach(({ index }, rank) => {
    ranks[index] = rank;
  });
  return { columns, rows, shift: modulo(shift, columns), ranks, rankCount: order.length };
}
