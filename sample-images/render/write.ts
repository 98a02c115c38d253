import { writeFile } from "node:fs/promises";
import sharp from "sharp";

const JPEG_QUALITY = 88;

/** Writes 8-bit sRGB, three bytes a pixel. */
export const writeJpeg = async (
  file: string,
  width: number,
  height: number,
  rgb: Uint8Array,
): Promise<void> => {
  await sharp(rgb, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: JPEG_QUALITY, mozjpeg: true })
    .toFile(file);
};

/** Writes 16-bit sRGB-encoded grey levels, one a pixel. */
export const writeGrey16 = async (
  file: string,
  width: number,
  height: number,
  levels: Uint16Array,
): Promise<void> => {
  await sharp(levels, { raw: { width, height, channels: 1 } })
    .toColourspace("grey16")
    .png({ compressionLevel: 9 })
    .toFile(file);
};

export const writeText = (file: string, text: string): Promise<void> => writeFile(file, text, "utf8");
