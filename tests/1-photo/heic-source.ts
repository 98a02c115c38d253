import sharp, { type Sharp } from "sharp";

const harbour = new URL("../../sample-images/harbour.jpg", import.meta.url).pathname;

/** Colours of the even patches at the right, from the top: each fills 16 × 16 pixels from column 48 on. */
export const patches = ["#ff0000", "#00ff00", "#0000ff"] as const;

/** The picture in the HEIC files of tests/1-photo/data: 64 × 48 pixels of the harbour, with patches that show its colour space. */
export async function heicSource(): Promise<Sharp> {
  const colours = patches.map((background, i) => ({
    input: { create: { width: 16, height: 16, channels: 3, background } } as const,
    left: 48,
    top: 16 * i,
  }));
  const scene = await sharp(harbour).resize(64, 48, { fit: "fill" }).png().toBuffer();
  return sharp(await sharp(scene).composite(colours).removeAlpha().png().toBuffer());
}
