import type { PackedBitmap } from "../../core/packed-bits.js";
import type { Pitch } from "../../core/plane.js";
import { linesPerMmFromPitchMm } from "../../core/units.js";
import { encodeBitmapPng } from "./bitmap-png.js";

/**
 * A greyscale TIFF 6.0 in strips, bilevel at 2 power levels and with 8 bits per pixel at more. Black (0) is full power. Both
 * densities are in pixels per centimetre, with the 24 bits of libtiff: more exact than a whole number of pixels per metre. Throws
 * `INTERNAL` if the bitmap has no pixels.
 * Adobe, TIFF Revision 6.0 Final, 1992.
 */
export async function encodeBitmapTiff(bitmap: PackedBitmap, pitch: Pitch): Promise<Uint8Array> {
  // sharp writes it, because it keeps bits and densities exactly. It reads the PNG row by row; raw pixels would need eight bits
  // each. 8000 × 6000 pixels of diffused error take 4.0 MB with deflate, 5.7 MB with PackBits, 15.5 MB with CCITT Group 4, which
  // is made for lines of text, and 6.0 MB without compression.
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
