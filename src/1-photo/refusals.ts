import type { SpotpitchError } from "../core/errors.js";
import { pixelsAllowed, readableFormats } from "../core/refusals/photo.js";
import { refusal } from "../core/refusals/refusals.js";
import { fileKind } from "./file-kind.js";

/** Name of a photo or mask at the start of a message. */
export const photoName = (fileName: string | undefined, role: "photo" | "mask" = "photo"): string => {
  if (fileName === undefined) return `The ${role}`;
  return role === "photo" ? `"${fileName}"` : `The ${role} "${fileName}"`;
};

export function emptyPhoto(name: string): SpotpitchError {
  return refusal("photo-empty", { name }, { received: 0, allowed: readableFormats });
}

/** For bytes that the decoder cannot read: a damaged picture, or no readable picture. */
export function undecodablePhoto(name: string, bytes: Uint8Array, cause: unknown): SpotpitchError {
  const kind = fileKind(bytes);
  if (kind?.readable) {
    return refusal(
      "photo-damaged",
      { name, kind: kind.name },
      { received: kind.name, allowed: "a complete file", cause },
    );
  }
  if (kind === undefined) {
    return unreadablePhoto(name, "not a picture that can be read", "Check that it is the right file.", cause);
  }
  return unreadablePhoto(name, `${kind.name}, which cannot be read`, kind.advice ?? "", cause);
}

/** Work on a file that may be damaged. */
export async function guarded<T>(name: string, bytes: Uint8Array, work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (cause) {
    throw undecodablePhoto(name, bytes, cause);
  }
}

/** For an intact file that the decoder cannot read. @param what the end of the sentence "The photo is …" */
export function unreadablePhoto(name: string, what: string, advice: string, cause?: unknown): SpotpitchError {
  return refusal(
    "photo-unreadable",
    { name, what, advice },
    { received: what, allowed: readableFormats, cause },
  );
}

export function oversizedPhoto(
  name: string,
  columns: number,
  rows: number,
  maxPixels: number,
): SpotpitchError {
  return refusal(
    "photo-too-large",
    { name, columns, rows, maxPixels },
    { received: [columns, rows], allowed: pixelsAllowed(maxPixels) },
  );
}
