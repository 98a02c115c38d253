import type { PackedBitmap } from "../../core/packed-bits.js";
import type { Pitch } from "../../core/plane.js";
import { linesPerMmFromPitchMm } from "../../core/units.js";
import { encodeBitmapPng } from "./bitmap-png.js";

/**
 * A greyscale TIFF 6.0 in strips, bilevel at 2 power levels and of 8 bits at more, black (0) for full power, that says both densities in pixels per centimetre, to the 24 bits
 * in which libtiff holds them: closer than a whole number of pixels per metre. Throws `INTERNAL` where the bitmap has no
 * pixels.
 * Adobe, TIFF Revision 6.0 Final, 1992.
 */
export async function encodeBitmapTiff(bitmap: PackedBitmap, pitch: Pitch): Promise<Uint8Array> {
  // sharp writes it, for it keeps bit and densities exactly. From the PNG, which it unpacks row by row: raw pixels would
  // have to be eight bits each. Deflate: 8000 × 6000 pixels of diffused error take 4.0 MB, PackBits 5.7 MB, and CCITT
  // Group 4, made for lines of text, 15.5 MB, where the bare bits are 6.0 MB.
  const { default: sharp } = await import("sharp");
  return sharp(await encodeBitmapPng(bitmap, pitch), { limitInputPixels: false })
    .toColourspace("b-w")
    .tiff({
      ...(bitmap.levels === 2 && { bitdepth: 1 as const }),
      compression: "deflate",
      predictor: "none",
      resolutionUnit: "cm",
      xres: linesPerMmFromPitchMm(pitch.alongMm),
      yres: linesPerMmFromPitchMm(pitch.acrossMm),
    })
    .toBuffer();
}
