import sharp from "sharp";

/** Writes an even photo of 40 × 30 pixels. */
export const writeSmallPhoto = (path: string): Promise<unknown> =>
  sharp({ create: { width: 40, height: 30, channels: 3, background: "grey" } })
    .png()
    .toFile(path);
