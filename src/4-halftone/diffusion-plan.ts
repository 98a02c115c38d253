import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { DiffusionKernel } from "./kernels.js";

/**
 * A stencil in whole numbers. A tap of weight w takes ⌊e·w + ½⌋ of an error e; both are in 16384ths. One tap takes the rest, so
 * rounding loses no error: the tap straight below, if the stencil has one. A burn lowers the error by 16384, and so each share
 * by exactly its weight.
 */
export interface DiffusionPlan {
  /** Weights of the next pixel along the scan and of the one after it; 0 without such a tap. */
  readonly ahead: number;
  readonly secondAhead: number;
  /** [rows below] Weights of columns −3..3 along the scan; 0 without a tap, and 0 for the tap that takes the rest. */
  readonly below: readonly (readonly number[])[];
  /** Columns that the taps below reach to either side, 1..3. */
  readonly reach: number;
  /** The tap that takes the rest. */
  readonly rest: { readonly dx: number; readonly dy: number };
  /** Weight of the error dropped on purpose: 0 except in Atkinson's stencil. */
  readonly dropped: number;
}

/** Columns to either side in `below`. */
export const BELOW_REACH = 3;

export function planDiffusion({ taps, divisor }: DiffusionKernel): DiffusionPlan {
  const inFraction = (weight: number) => Math.round((FRACTION_ONE * weight) / divisor);
  const rest = taps.find(([dx, dy]) => dx === 0 && dy === 1) ?? taps[taps.length - 1];
  const weightAt = (dx: number, dy: number) => {
    const tap = taps.find((candidate) => candidate[0] === dx && candidate[1] === dy);
    return tap && tap !== rest ? inFraction(tap[2]) : 0;
  };
  const rowsBelow = Math.max(...taps.map(([, dy]) => dy));
  const dropped = divisor - taps.reduce((sum, [, , weight]) => sum + weight, 0);
  return {
    ahead: weightAt(1, 0),
    secondAhead: weightAt(2, 0),
    below: Array.from({ length: rowsBelow }, (_, row) =>
      Array.from({ length: 2 * BELOW_REACH + 1 }, (_, k) => weightAt(k - BELOW_REACH, row + 1)),
    ),
    reach: Math.max(...taps.filter(([, dy]) => dy > 0).map(([dx]) => Math.abs(dx))),
    rest: { dx: rest[0], dy: rest[1] },
    dropped: inFraction(dropped),
  };
}
