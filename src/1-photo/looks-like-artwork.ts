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

/** Smallest difference from the darkest to the lightest tone, 12 steps of 255. Noise on an even grey has few tones too. */
const MIN_CONTRAST = 12 * 257;

/**
 * Whether a picture is probably a logo or lettering, because it has few tones. Transparency counts as a tone. Tones are bins of
 * the picture's own range: of the whole scale, a dark or a pale photograph has few tones.
 */
export function looksLikeArtwork({ luminance, opacity }: Pick<Photo, "luminance" | "opacity">): boolean {
  const codes = denseData(luminance);
  const opaque = opacity && denseData(opacity);
  const step = Math.floor(codes.length / LOOKED_AT) | 1; // odd, so that it does not hit the same columns in every row
  const seen = new Float64Array(65536);
  let total = 0;
  let transparent = 0;
  for (let i = 0; i < codes.length; i += step, total++) {
    if (opaque && opaque[i] < 0x8000) transparent++;
    else seen[codes[i]]++;
  }
  const counts = Float64Array.of(transparent, ...tonesOf(seen))
    .sort()
    .reverse();
  const inFew = counts.subarray(0, MAX_TONES).reduce((sum, count) => sum + count, 0);
  const [ground, second] = counts;
  if (inFew < MIN_FLAT * total || second < MIN_SHARE * total) return false;
  return inFew - ground >= MIN_FLAT_OFF_GROUND * (total - ground);
}

/** Pixels in each of the bins from the darkest to the lightest tone; all in one bin if these hardly differ. */
function tonesOf(seen: Float64Array): Float64Array {
  const darkest = Math.max(
    0,
    seen.findIndex((count) => count > 0),
  );
  const lightest = seen.findLastIndex((count) => count > 0);
  const tones = new Float64Array(BINS);
  const bins = lightest - darkest < MIN_CONTRAST ? 1 : BINS;
  for (let code = darkest; code <= lightest; code++) {
    tones[Math.floor(((code - darkest) * bins) / (lightest - darkest + 1))] += seen[code];
  }
  return tones;
}
