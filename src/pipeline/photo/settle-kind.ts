import type { Photo } from "../../1-photo/decode.js";
import { looksLikeArtwork } from "../../1-photo/looks-like-artwork.js";
import { isPlainArtwork } from "../../1-photo/plain-artwork.js";
import type { ResolvedOptions, SettledOptions } from "../../options/options.js";
import { asKind, asksForTones } from "../../options/solid-options.js";

/** What kind of picture it is, and what speaks for the other kind. */
export interface SettledKind {
  readonly resolved: SettledOptions;
  /** Whether nobody said it. */
  readonly guessed: boolean;
  /** Whether a picture that is taken for a photo may be a logo or lettering all the same. */
  readonly looksLikeArtwork: boolean;
}

/** The kind as asked; otherwise solid where the picture is plainly artwork and nothing tonal is asked for, or else photo. */
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

/** Before the picture is known. */
export function mayBeSolid(options: ResolvedOptions): boolean {
  return options.kind === "solid" || (options.kind === "auto" && !asksForTones(options));
}
