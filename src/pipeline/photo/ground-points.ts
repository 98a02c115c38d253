import { looksLikeArtwork } from "../../1-photo/looks-like-artwork.js";
import type { Photo } from "../../1-photo/photo.js";
import type { ToneEnds } from "../../2-tone/input-range.js";

/**
 * The points of automatic levels for a drawing on a transparent ground. The ground stays bare, so it takes part as the tone of the
 * bare surface. Otherwise levels would stretch the palest of several colours to that tone, and it would be gone.
 */
export function withGround(ends: ToneEnds, photo: Photo, bare: 0 | 1): ToneEnds {
  if (!photo.opacity || !looksLikeArtwork(photo)) return ends;
  return bare === 1 ? { ...ends, lightest: 1 } : { ...ends, darkest: 0 };
}
