import type { Photo } from "../../../src/1-photo/photo.js";
import { createKernelMemory } from "../../../src/core/kernel-memory.js";
import { type PrepareOptions, resolveOptions } from "../../../src/options/options.js";
import { engravedPart } from "../../../src/pipeline/photo/engraved-part.js";
import { luminanceRows, photoOnGrid } from "../../../src/pipeline/photo/luminance.js";
import { frameOf } from "../../../src/pipeline/photo/piece-size.js";

/** L* of a linear luminance 0..1 (CIE 15), written out again. */
export const lightness = (y: number): number =>
  y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (29 / 3) ** 3 * y;

/** Linear luminance of an L*. */
export const luminance = (l: number): number => (l > 8 ? ((l + 16) / 116) ** 3 : l / (29 / 3) ** 3);

/** sRGB decoding and encoding (IEC 61966-2-1), written out again. */
export const linear = (c: number): number => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
export const encoded = (y: number): number => (y <= 0.0031308 ? 12.92 * y : 1.055 * y ** (1 / 2.4) - 0.055);

/** The wanted L* of every pixel of a piece, before the halftone, and the strength of its lift. */
export async function tonesOf(photo: Photo, options: PrepareOptions) {
  const resolved = resolveOptions({ kind: "photo", ...options });
  const frame = frameOf(photo, resolved);
  const picture = photoOnGrid(await engravedPart(photo, resolved), frame, resolved);
  const rows = luminanceRows({ options: resolved, memory: createKernelMemory() }, picture);
  const { columns } = frame;
  const tones = new Float32Array(columns * frame.rows);
  for (let y = 0; y < frame.rows; y++) {
    rows(y).forEach((code, x) => {
      tones[y * columns + x] = lightness(code / 65535);
    });
  }
  return { tones, columns, rows: frame.rows, strength: picture.lift?.strength ?? 0 };
}
