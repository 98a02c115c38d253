import sharp from "sharp";
import type { MarkedCard } from "../../7-card/recipe.js";
import { inPicture } from "../../7-card-picture/card-view.js";
import { lightAt } from "../../7-card-picture/light-plane.js";
import { srgbFromLinear } from "../../core/physics/transfer.js";
import type { CardReading } from "./card-reading.js";

/** Pixels to the mm of the straightened picture: patches show, and a page stays small. */
const PX_PER_MM = 12;
const JPEG_QUALITY = 82;

/** The card of a picture, straightened and as bright as the camera saw it, as a JPEG file. */
export async function straightened({ picture, view, recipe }: CardReading<MarkedCard>): Promise<Uint8Array> {
  const [width, height] = [recipe.widthMm, recipe.heightMm].map((mm) => Math.round(mm * PX_PER_MM));
  const codes = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const light = lightAt(picture, inPicture(view, [(x + 0.5) / PX_PER_MM, (y + 0.5) / PX_PER_MM]));
      codes[y * width + x] = Number.isNaN(light) ? 0 : Math.round(255 * srgbFromLinear(light));
    }
  }
  return sharp(codes, { raw: { width, height, channels: 1 } })
    .jpeg({ quality: JPEG_QUALITY })
    .toBuffer();
}
