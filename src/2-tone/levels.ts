import { linearFromSrgb } from "../core/transfer.js";

/** Linear luminance that becomes 0, and that which becomes 1. */
export interface Levels {
  readonly black: number;
  readonly white: number;
}

export const AS_IS: Levels = { black: 0, white: 1 };

/** A photo flatter than this in linear luminance is left alone: stretching it would only show noise. */
const LEAST_RANGE = 0.02;

/**
 * Automatic levels: the luminance below which `clipPercent` of the picture lies becomes 0, that above which as much lies
 * becomes 1. Never more than that share is clipped at either end: a code whose pixels would exceed it stays unclipped.
 *
 * The stretch is linear in light: it takes off an even veil and sets the exposure, and leaves every ratio of light between
 * as it is.
 *
 * @param codes sRGB-encoded luminance, 0..65535
 * @param opacity 0..65535; transparent pixels do not count
 */
export function automaticLevels(
  codes: Uint16Array,
  opacity: Uint16Array | undefined,
  clipPercent: number,
): Levels {
  const { histogram, total } = opacity ? weighed(codes, opacity) : counted(codes);
  const clip = (total * clipPercent) / 100;
  let low = 0;
  for (let sum = histogram[0]; low < 65535 && sum <= clip; sum += histogram[low]) low++;
  let high = 65535;
  for (let sum = histogram[65535]; high > 0 && sum <= clip; sum += histogram[high]) high--;
  const black = linearFromSrgb(low / 65535);
  const white = linearFromSrgb(high / 65535);
  return white - black < LEAST_RANGE ? AS_IS : { black, white };
}

interface Histogram {
  readonly histogram: Uint32Array | Float64Array;
  readonly total: number;
}

/** Two counts side by side: neighbours are often alike, and one would have to wait for the other. */
function counted(codes: Uint16Array): Histogram {
  const histogram = new Uint32Array(65536);
  const other = new Uint32Array(65536);
  const even = codes.length - (codes.length % 2);
  for (let i = 0; i < even; i += 2) {
    histogram[codes[i]]++;
    other[codes[i + 1]]++;
  }
  if (even < codes.length) histogram[codes[even]]++;
  for (let code = 0; code < histogram.length; code++) histogram[code] += other[code];
  return { histogram, total: codes.length };
}

/** Transparent pixels do not count. */
function weighed(codes: Uint16Array, opacity: Uint16Array): Histogram {
  const histogram = new Float64Array(65536);
  let total = 0;
  for (let i = 0; i < codes.length; i++) {
    const weight = opacity[i] / 65535;
    histogram[codes[i]] += weight;
    total += weight;
  }
  return { histogram, total };
}
