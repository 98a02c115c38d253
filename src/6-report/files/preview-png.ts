import type { RgbPicture } from "../pictures/preview.js";

/** An RGB picture as PNG. */
export async function encodePreviewPng({ rgb, columns, rows }: RgbPicture): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  return sharp(rgb, { raw: { width: columns, height: rows, channels: 3 } })
    .png({ compressionLevel: 3 })
    .toBuffer();
}
