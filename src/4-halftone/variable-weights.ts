import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { KeyRow } from "./variable-coefficients.js";

/** Published tables cover greys 0..127. Greys 128..255 mirror them. */
const GREYS = 128;

/** Shares of an error, and noise on the threshold, by folded grey. */
export interface VariableShares {
  /** [128 × 3] right, down-left, down. */
  readonly shares: Float64Array;
  /** [128] Strength of the threshold noise, 0..1: share of half a step above the usual threshold. Absent without noise. */
  readonly noise?: Float64Array;
}

/** Shares [right, down-left, down] for each of the 128 folded greys: key rows normalised, linear in between. */
export function sharesFromKeyRows(rows: readonly KeyRow[]): Float64Array {
  const shares = new Float64Array(GREYS * 3);
  for (let k = 0; k + 1 < rows.length; k++) {
    const [from, ...a] = rows[k];
    const [to, ...b] = rows[k + 1];
    const sumA = a[0] + a[1] + a[2];
    const sumB = b[0] + b[1] + b[2];
    for (let grey = from; grey <= to; grey++) {
      const t = (grey - from) / (to - from);
      for (let c = 0; c < 3; c++) shares[grey * 3 + c] = (1 - t) * (a[c] / sumA) + t * (b[c] / sumB);
    }
  }
  return shares;
}

/** Linear in between key greys. */
export function strengthFromKeys(keys: readonly (readonly [grey: number, strength: number])[]): Float64Array {
  const strength = new Float64Array(GREYS);
  for (let k = 0; k + 1 < keys.length; k++) {
    const [from, a] = keys[k];
    const [to, b] = keys[k + 1];
    for (let grey = from; grey <= to; grey++) strength[grey] = a + ((b - a) * (grey - from)) / (to - from);
  }
  return strength;
}

/** Numbers per grey in a table of weights: ahead, behind below, noise strength, and one unused. */
export const GREY_STRIDE = 4;

/** Whole-number weights of greys 0..255 [256 × 4], in 16384ths. */
export function weightTable({ shares, noise }: VariableShares, table: Int16Array): void {
  for (let grey = 0; grey < 2 * GREYS; grey++) {
    const folded = grey < GREYS ? grey : 2 * GREYS - 1 - grey;
    const at = grey * GREY_STRIDE;
    table[at] = Math.round(FRACTION_ONE * shares[3 * folded]);
    table[at + 1] = Math.round(FRACTION_ONE * shares[3 * folded + 1]);
    table[at + 2] = noise ? Math.round(FRACTION_ONE * noise[folded]) : 0;
  }
}
