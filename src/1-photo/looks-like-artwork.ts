import { denseData } from "../core/plane.js";
import type { Photo } from "./photo.js";

const BINS = 64;

/** Approximate number of pixels to examine, evenly spread over the picture. */
const LOOKED_AT = 1 << 18;

/**
 * In a drawing, a few flat tones fill most of the area, and also most of the area without the background; the rest is softened
 * edges. A photograph has many tones. In a photograph cut out on white, only the background is flat.
 */
const MAX_TONES = 4;
const MIN_FLAT = 0.85;
const MIN_FLAT_OFF_GROUND = 0.5;

/** Smallest share of the second tone: an empty sheet is no drawing. */
const MIN_SHARE = 0.002;

/** Whether a picture is probably a logo or lettering, because it has few tones. Transparency counts as a tone. */
export function looksLikeArtwork({ luminance, opacity }: Pick<Photo, "luminance" | "opacity">): boolean {
  const codes = denseData(luminance);
  const opaque = opacity && denseData(opacity);
  const step = Math.floor(codes.length / LOOKED_AT) | 1; // odd, so that it does not hit the same columns in every row
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
