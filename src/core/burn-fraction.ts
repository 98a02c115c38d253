/**
 * Halftones take burn fractions as 16-bit integers; 16384 means 1. With integers, error diffusion is exact and every form of its
 * loops gives the same result. No tone curve is known to 14 bits, and two bits are left for the diffused error: a fraction plus
 * its error stays within −½..1½.
 */
export const FRACTION_ONE = 16384;

/** Code of a pixel that must not burn, whatever error its neighbours diffuse to it. Otherwise it counts as 0. */
export const STAYS_BARE = -1;

/** The integer nearest to a fraction 0..1. */
export const fractionCode = (fraction: number): number => Math.floor(fraction * FRACTION_ONE + 0.5);
