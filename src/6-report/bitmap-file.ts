import type { Bitmap } from "../core/plane.js";

export type BitmapFormat = "png" | "tiff" | "bmp";

/** Encode a bitmap, black = burn, with both its densities. */
export async function encodeBitmap(bitmap: Bitmap, format: BitmapFormat): Promise<Uint8Array> {
  switch (format) {
    case "png":
      return (await import("./bitmap-png.js")).encodeBitmapPng(bitmap);
    case "tiff":
      return (await import("./bitmap-tiff.js")).encodeBitmapTiff(bitmap);
    case "bmp":
      return (await import("./bitmap-bmp.js")).encodeBitmapBmp(bitmap);
  }
}
