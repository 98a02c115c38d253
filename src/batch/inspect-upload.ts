import { extname } from "node:path";
import { isCompressed } from "../1-photo/drawing/drawing-text.js";
import { SpotpitchError } from "../core/errors.js";
import { inspectPhoto, type PhotoFacts } from "../pipeline/decoding.js";
import { drawingDanger } from "./drawing-dangers.js";
import type { UploadLimits } from "./limits.js";

/**
 * Check that a stranger's file may be decoded, and read its facts. It must be a picture within the limits, and no dangerous
 * drawing. Throws `INPUT_*`.
 */
export async function inspectUpload(
  bytes: Uint8Array,
  name: string,
  { maxPixels }: UploadLimits,
): Promise<PhotoFacts> {
  if (isCompressed(bytes)) checkDrawing(bytes, name);
  const facts = await inspectPhoto(bytes, { fileName: name, maxPixels });
  if (facts.format === "svg") checkDrawing(bytes, name);
  return facts;
}

function checkDrawing(bytes: Uint8Array, name: string): void {
  const danger = drawingDanger(bytes);
  if (danger === undefined) return;
  const { what, advice = "Save it as plain SVG or as PNG." } = danger;
  const message = `"${name}" is a drawing with ${what}. Allowed: drawings with everything inside. ${advice}`;
  throw new SpotpitchError("INPUT_UNSAFE_DRAWING", message, { received: extname(name) });
}
