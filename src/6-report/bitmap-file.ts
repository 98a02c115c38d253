import { SpotpitchError } from "../core/errors.js";
import { type PackedBitmap, packBitmap } from "../core/packed-bits.js";
import { type Bitmap, columnsOf, denseData, type Pitch, rowsOf } from "../core/plane.js";

export type BitmapFormat = "png" | "tiff" | "bmp";

/**
 * Encode a bitmap, black = burn, with both its densities. Throws `INTERNAL` where it has no pixels (no format allows that)
 * or no pitch.
 */
export async function encodeBitmap(bitmap: Bitmap, format: BitmapFormat): Promise<Uint8Array> {
  const { pitch } = bitmap;
  if (!pitch) throw new SpotpitchError("INTERNAL", "A bitmap file needs the pitch of its pixels.");
  return encodePackedBitmap(packBitmap(denseData(bitmap), columnsOf(bitmap), rowsOf(bitmap)), pitch, format);
}

/** The same of a bitmap at one bit a pixel. */
export async function encodePackedBitmap(
  bitmap: PackedBitmap,
  pitch: Pitch,
  format: BitmapFormat,
): Promise<Uint8Array> {
  switch (format) {
    case "png":
      return (await import("./bitmap-png.js")).encodeBitmapPng(bitmap, pitch);
    case "tiff":
      return (await import("./bitmap-tiff.js")).encodeBitmapTiff(bitmap, pitch);
    case "bmp":
      return (await import("./bitmap-bmp.js")).encodeBitmapBmp(bitmap, pitch);
  }
}
