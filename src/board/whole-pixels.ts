/** Lengths are given in decimals: 25.4 mm are 254 pixels of 0.1 mm although the quotient may be a little less or more. */
const SLACK_PX = 1e-6;

/** The fewest whole pixels that are no shorter than a length. */
export const pixelsCovering = (lengthMm: number, pitchMm: number): number =>
  Math.ceil(lengthMm / pitchMm - SLACK_PX);
