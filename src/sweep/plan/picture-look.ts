import { hasSeveralInks } from "../../1-photo/flat-colours.js";
import type { Photo } from "../../1-photo/photo.js";
import { type Note, noted } from "../../6-report/words/plan-notes.js";
import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import { linearFromSrgb } from "../../core/physics/transfer.js";
import { denseData } from "../../core/plane.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { DecodedSource } from "../../pipeline/make-piece.js";
import { engravedPart } from "../../pipeline/photo/engraved-part.js";
import { settleKind } from "../../pipeline/photo/settle-kind.js";

/** What a plan says about its picture itself. */
export interface PictureLook {
  /** Whether a piece of it is solid artwork if nobody sets the kind. */
  readonly solid: boolean;
  readonly looksLikeArtwork: boolean;
  readonly severalInks: boolean;
  readonly uniform: boolean;
}

/** @param options of a piece, with the kind `auto` if nobody set one */
export async function lookAtPicture(
  { photo, engraved }: DecodedSource,
  options: ResolvedOptions,
): Promise<PictureLook> {
  const part = await (engraved?.() ?? engravedPart(await photo, options));
  const { resolved, looksLikeArtwork } = settleKind(options, part);
  return {
    solid: resolved.kind === "solid",
    looksLikeArtwork,
    severalInks: hasSeveralInks(part.colours),
    uniform: isUniform(part),
  };
}

/** No step between tones that are nearer than this can be seen, in L*. */
const VISIBLE_STEP = 1;

/** A cut-out picture has at least its outline. */
function isUniform({ luminance, opacity }: Photo): boolean {
  if (opacity) return false;
  const codes = denseData(luminance);
  let [darkest, lightest] = [codes[0], codes[0]];
  for (const code of codes) {
    if (code < darkest) darkest = code;
    if (code > lightest) lightest = code;
  }
  const [low, high] = [darkest, lightest].map((code) => lightnessFromLuminance(linearFromSrgb(code / 65535)));
  return high - low < VISIBLE_STEP;
}

/** Notes on the picture. They come first: tones may not decide at all. */
export function pictureNotes({ solid, looksLikeArtwork, severalInks, uniform }: PictureLook): Note[] {
  if (uniform) return [noted("nothing-to-see", {})];
  if (solid) return [noted("solid-artwork", {})];
  return looksLikeArtwork ? [noted("looks-like-artwork", { severalInks })] : [];
}
