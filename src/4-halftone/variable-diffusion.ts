import type { Random } from "../core/random.js";
import type { RowHalftone, Scan, Sides } from "./method.js";
import type { KeyRow } from "./variable-coefficients.js";

const LEVELS = 128;

/** Shares [right, down-left, down] for each of the 128 folded levels: key rows normalised, linear in between. */
export function sharesFromKeyRows(rows: readonly KeyRow[]): Float64Array {
  const shares = new Float64Array(LEVELS * 3);
  for (let k = 0; k + 1 < rows.length; k++) {
    const [from, ...a] = rows[k];
    const [to, ...b] = rows[k + 1];
    const sumA = a[0] + a[1] + a[2];
    const sumB = b[0] + b[1] + b[2];
    for (let level = from; level <= to; level++) {
      const t = (level - from) / (to - from);
      for (let c = 0; c < 3; c++) shares[level * 3 + c] = (1 - t) * (a[c] / sumA) + t * (b[c] / sumB);
    }
  }
  return shares;
}

/** Linear in between key levels. */
export function strengthFromKeys(
  keys: readonly (readonly [level: number, strength: number])[],
): Float64Array {
  const strength = new Float64Array(LEVELS);
  for (let k = 0; k + 1 < keys.length; k++) {
    const [from, a] = keys[k];
    const [to, b] = keys[k + 1];
    for (let level = from; level <= to; level++)
      strength[level] = a + ((b - a) * (level - from)) / (to - from);
  }
  return strength;
}

/** Threshold noise: up to `strength` (0..1) of half a step above the usual threshold, by folded level. */
export interface ThresholdNoise {
  readonly strength: Float64Array;
  readonly random: Random;
}

/**
 * Error diffusion to three neighbours with shares that depend on the pixel's own burn fraction (not on the error it has
 * received): V. Ostromoukhov (2001); with threshold noise, B. Zhou and X. Fang (2003). The noise moves only the decision,
 * not the error, so the mean stays.
 *
 * @param sides as for `diffuse`
 */
export function diffuseVariable(
  shares: Float64Array,
  columns: number,
  scan: Scan,
  sides: Sides,
  noise?: ThresholdNoise,
): RowHalftone {
  let current = new Float64Array(columns + 2);
  let next = new Float64Array(columns + 2);
  return (fractions, y, bits) => {
    const step = scan === "serpentine" && y % 2 === 1 ? -1 : 1;
    const first = step === 1 ? 0 : columns - 1;
    for (let n = 0, x = first; n < columns; n++, x += step) {
      const level = Math.min(255, Math.max(0, Math.round(fractions[x] * 255)));
      const folded = level < LEVELS ? level : 255 - level;
      const wanted = fractions[x] + current[x + 1];
      const threshold = noise ? 0.5 + 0.5 * noise.strength[folded] * noise.random() : 0.5;
      const bit = wanted >= threshold ? 1 : 0;
      bits[x] = bit;
      const error = wanted - bit;
      const share = folded * 3;
      current[x + 1 + step] += error * shares[share];
      next[x + 1 - step] += error * shares[share + 1];
      next[x + 1] += error * shares[share + 2];
    }
    if (sides === "keep") {
      next[1] += next[0] + current[0];
      next[columns] += next[columns + 1] + current[columns + 1];
      next[0] = 0;
      next[columns + 1] = 0;
    }
    current.fill(0);
    [current, next] = [next, current];
  };
}
