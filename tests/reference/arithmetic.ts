/** Number format of the textbook engines. */
export interface Arithmetic {
  /** Value of a burn fraction of 1. */
  readonly one: number;
  /** Shares of an error. In whole numbers, share number `rest` takes the rest of the rounding. */
  readonly split: (error: number, shares: ArrayLike<number>, rest: number) => number[];
  /** a·b, or a·b + c·d. */
  readonly product: (a: number, b: number, c?: number, d?: number) => number;
  /** Threshold noise of a strength 0..1 by a random number 0..1. */
  readonly noiseOf: (strength: number, random: number) => number;
  /** Value of power level k of n. */
  readonly levelOf: (k: number, levels: number) => number;
  /** One half with random jitter: 1/4..3/4. */
  readonly jitteredHalf: (random: number) => number;
}

/** Fractions 0..1 in double precision. */
export const exact: Arithmetic = {
  one: 1,
  split: (error, shares) => Array.from(shares, (share) => error * share),
  product: (a, b, c = 0, d = 0) => a * b + c * d,
  noiseOf: (strength, random) => 0.5 * strength * random,
  levelOf: (k, levels) => k / (levels - 1),
  jitteredHalf: (random) => 0.5 + 0.5 * (random - 0.5),
};

const ONE = 16384;
const code = (value: number) => Math.round(ONE * value);
const rounded = (product: number) => Math.floor(product / ONE + 0.5);

/** Fractions 0..16384: weights and results are rounded to whole numbers. */
export const whole: Arithmetic = {
  one: ONE,
  split: (error, shares, rest) => {
    const parts = Array.from(shares, (share, k) => (k === rest ? 0 : rounded(error * code(share))));
    const dropped = 1 - Array.from(shares).reduce((sum, share) => sum + share, 0);
    parts[rest] = error - rounded(error * code(dropped)) - parts.reduce((sum, part) => sum + part, 0);
    return parts;
  },
  product: (a, b, c = 0, d = 0) => rounded(code(a) * b + code(c) * d),
  noiseOf: (strength, random) => Math.floor((code(strength) * Math.floor(32768 * random)) / (4 * ONE)),
  levelOf: (k, levels) => Math.round((ONE * k) / (levels - 1)),
  jitteredHalf: (random) => 1 / 4 + Math.floor(8192 * random) / ONE,
};
