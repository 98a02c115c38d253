import { SpotpitchError } from "../core/errors.js";
import { fileKind } from "./file-kind.js";
import { maximumPixels } from "./photo.js";

const allowedFormats = "a JPEG, PNG, WebP, AVIF, GIF, TIFF or SVG picture";

/** How a photo, or another picture, is called at the start of a message. */
export const photoName = (fileName: string | undefined, role: "photo" | "mask" = "photo"): string => {
  if (fileName === undefined) return `The ${role}`;
  return role === "photo" ? `"${fileName}"` : `The ${role} "${fileName}"`;
};

export function emptyPhoto(name: string): SpotpitchError {
  return new SpotpitchError(
    "INPUT_EMPTY",
    `${name} is empty (0 bytes). Allowed: ${allowedFormats}. Export or upload it again.`,
    { received: 0, allowed: allowedFormats },
  );
}

/** For bytes that the decoder gave up on: either a damaged picture, or no picture that can be read. */
export function undecodablePhoto(name: string, bytes: Uint8Array, cause: unknown): SpotpitchError {
  const kind = fileKind(bytes);
  if (kind?.readable) {
    return new SpotpitchError(
      "INPUT_DAMAGED",
      `${name} starts as ${kind.name}, but is damaged, incomplete or of an unusual variant. Allowed: a complete file. ` +
        "Copy or upload it again; if that does not help, open it elsewhere and save it as PNG.",
      { received: kind.name, allowed: "a complete file", cause },
    );
  }
  if (kind === undefined) {
    return unreadablePhoto(name, "not a picture that can be read", "Check that it is the right file.", cause);
  }
  return unreadablePhoto(name, `${kind.name}, which cannot be read`, kind.advice ?? "", cause);
}

/** For a file that is whole, and that the decoder cannot read. `what` ends the sentence "The photo is …". */
export function unreadablePhoto(name: string, what: string, advice: string, cause?: unknown): SpotpitchError {
  return new SpotpitchError(
    "INPUT_NOT_AN_IMAGE",
    `${name} is ${what}. Allowed: ${allowedFormats}. ${advice}`,
    {
      received: what,
      allowed: allowedFormats,
      cause,
    },
  );
}

export function oversizedPhoto(
  name: string,
  columns: number,
  rows: number,
  maxPixels = maximumPixels,
): SpotpitchError {
  const megapixels = (pixels: number) => `${Math.round(pixels / 1e6)} megapixels`;
  const allowed = `up to ${maxPixels} pixels (${megapixels(maxPixels)})`;
  return new SpotpitchError(
    "INPUT_TOO_LARGE",
    `${name} declares ${columns} × ${rows} pixels (${megapixels(columns * rows)}). Allowed: ${allowed}. ` +
      "Scale it down and try again.",
    { received: [columns, rows], allowed },
  );
}
