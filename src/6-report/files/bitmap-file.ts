import { type PackedBitmap, packBitmap } from "../../core/packed-bits.js";
import { type Bitmap, columnsOf, denseData, type Pitch, rowsOf } from "../../core/plane.js";
import { refusal } from "../../core/refusals/refusals.js";

export type BitmapFormat = "png" | "tiff" | "bmp";

/**
 * Encode a bitmap, black = burn, with both its densities. With more than two power levels its pixels are 0..levels − 1. Throws
 * `INTERNAL` if it has no pixels (no format allows that) or no pitch.
 */
export async function encodeBitmap(bitmap: Bitmap, format: BitmapFormat, levels = 2): Promise<Uint8Array> {
  const { pitch } = bitmap;
  if (!pitch) throw refusal("bitmap-without-pitch", {});
  const packed = packBitmap(denseData(bitmap), columnsOf(bitmap), rowsOf(bitmap), levels);
  return encodePackedBitmap(packed, pitch, format);
}

/** The same for a packed bitmap of the halftone. */
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
