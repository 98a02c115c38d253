import type { Photo } from "../../1-photo/decode.js";
import { looksLikeArtwork } from "../../1-photo/looks-like-artwork.js";
import { isPlainArtwork } from "../../1-photo/plain-artwork.js";
import type { ResolvedOptions, SettledOptions } from "../../options/options.js";
import { asKind, asksForTones } from "../../options/solid-options.js";

/** The kind of picture, and whether it may be the other kind. */
export interface SettledKind {
  readonly resolved: SettledOptions;
  /** True if the options do not set the kind. */
  readonly guessed: boolean;
  /** True for a photo that may be a logo or lettering. */
  readonly looksLikeArtwork: boolean;
}

/**
 * The kind from the options. With `auto` it is solid if the picture is plain artwork and no option asks for tones, otherwise
 * photo.
 */
export function settleKind(options: ResolvedOptions, picture: Photo): SettledKind {
  const { kind } = options;
  if (kind !== "auto") {
    return { resolved: Object.freeze({ ...options, kind }), guessed: false, looksLikeArtwork: false };
  }
  const solid = mayBeSolid(options) && isPlainArtwork(picture);
  return {
    resolved: asKind(options, solid ? "solid" : "photo"),
    guessed: true,
    looksLikeArtwork: !solid && looksLikeArtwork(picture),
  };
}

/** Whether the options allow solid artwork. The picture need not be known. */
export function mayBeSolid(options: ResolvedOptions): boolean {
  return options.kind === "solid" || (options.kind === "auto" && !asksForTones(options));
}
