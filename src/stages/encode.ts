import { encodePackedBitmap } from "../6-report/files/bitmap-file.js";
import { packBitmap } from "../core/packed-bits.js";
import { type GridOptions, resolveJob } from "./job.js";
import { bitmapOf, type Picture, readPicture } from "./picture.js";

/** Options of `encodeBitmap`. */
export interface EncodeBitmapOptions extends GridOptions {
  /** `png` (default; W3C, 2025), `tiff` (Adobe, TIFF 6.0, 1992) or `bmp`. */
  readonly format?: "png" | "tiff" | "bmp" | undefined;
  /** Power levels of the bitmap, 2 to 256: 1 bit per pixel with 2 levels, 8 bits of grey with more. Default 2. */
  readonly levels?: number | undefined;
}

/**
 * A bitmap as a file that states its pitch along and across the lines. Black means burn at full power.
 *
 * @param bitmap [rows, columns] 0..levels − 1; not modified
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export async function encodeBitmap(
  bitmap: Picture<"bitmap", Uint8Array>,
  options: EncodeBitmapOptions = {},
): Promise<Uint8Array> {
  const source = readPicture("bitmap", bitmap, bitmapOf(options));
  const { pitch, format, levels } = resolveJob(options, ["pitchMm", "format", "levels"], source.pitch);
  return encodePackedBitmap(packBitmap(source.data, source.columns, source.rows, levels), pitch, format);
}
