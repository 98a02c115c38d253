/*
 * Power levels 0..n − 1 of a pixel. Level k is k/(n − 1) of full power. The dose is proportional to the power.
 */

/** Number of levels in a byte. With all of them no halftone is needed. */
export const MAX_LEVELS = 256;

/** Share of full power, 0..1, of each of n levels. */
export const levelPowers = (levels: number): Float64Array =>
  Float64Array.from({ length: levels }, (_, k) => k / (levels - 1));

/** Grey of each of n levels in a file, black for full power: 255 to 0. */
export const levelGreys = (levels: number): Uint8Array =>
  Uint8Array.from(levelPowers(levels), (power) => Math.round(255 * (1 - power)));
