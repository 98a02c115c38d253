import { denseData } from "../core/plane.js";
import type { Photo } from "./photo.js";

const BINS = 64;

/** Pixels looked at, about: evenly spread over the picture. */
const LOOKED_AT = 1 << 18;

/**
 * A drawing fills most of its area with a few flat tones, and so also most of what is not its ground; the rest are softened
 * edges. Photographs spread over many tones; of one cut out on a white ground, the ground is flat and the rest is not.
 */
const MAX_TONES = 4;
const MIN_FLAT = 0.85;
const MIN_FLAT_OFF_GROUND = 0.5;

/** The second tone must be there at all: a plain sheet is no drawing. */
const MIN_SHARE = 0.002;

/** Whether a picture may well be a logo or lettering: few tones. Transparency counts as a tone. */
export function looksLikeArtwork({ luminance, opacity }: Photo): boolean {
  const codes = denseData(luminance);
  const opaque = opacity && denseData(opacity);
  const step = Math.floor(codes.length / LOOKED_AT) | 1; // odd, so as not to fall on the same columns
  const counts = new Float64Array(BINS + 1);
  let total = 0;
  for (let i = 0; i < codes.length; i += step, total++) {
    if (opaque && opaque[i] < 0x8000) counts[BINS]++;
    else counts[(codes[i] * BINS) >> 16]++;
  }
  counts.sort().reverse();
  const inFew = counts.subarray(0, MAX_TONES).reduce((sum, count) => sum + count, 0);
  const [ground, second] = counts;
  if (inFew < MIN_FLAT * total || second < MIN_SHARE * total) return false;
  return inFew - ground >= MIN_FLAT_OFF_GROUND * (total - ground);
}
