/**
 * Burn fractions as halftones take them: 16-bit integers, 16384 for 1. Integers make error diffusion exact and the same in
 * every form of its loops; fourteen bits are finer than any tone curve is known, and leave room for the error of the
 * neighbours (a fraction and its error stay within −½..1½).
 */
export const FRACTION_ONE = 16384;

/** Stands for a pixel that must not burn whatever its neighbours hand it; counts as 0 otherwise. */
export const STAYS_BARE = -1;

/** The integer nearest to a fraction 0..1. */
export const fractionCode = (fraction: number): number => Math.floor(fraction * FRACTION_ONE + 0.5);
