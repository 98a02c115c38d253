import { decodePhoto as decode, inspectPhoto as inspect } from "../1-photo/decode.js";
import type { Photo, PhotoFacts } from "../1-photo/photo.js";
import { invalidOption, knownOptions, numberOption } from "./job.js";

/** Options of `decodePhoto`. */
export interface DecodePhotoOptions {
  /** Name for messages. The bytes alone decide the kind of file. */
  readonly fileName?: string | undefined;
  /** Smallest number of columns of a rendered drawing (SVG); other formats have their own size. Default 1000. */
  readonly minColumns?: number | undefined;
  /** The same for rows. Default 1. */
  readonly minRows?: number | undefined;
  /** Largest number of pixels that the file may declare. Default and limit 16383². */
  readonly maxPixels?: number | undefined;
}

const MAX_SIDE = 0x3fff;

/**
 * Decode a picture to sRGB-encoded luminance: upright after its Exif orientation, with its colour profile applied, the first frame
 * or page. Luminance is 0.2126 R + 0.7152 G + 0.0722 B of linear light (ITU-R BT.709, 2015), encoded again by the curve of
 * IEC 61966-2-1 (1999).
 *
 * @param bytes a JPEG, PNG, WebP, AVIF, HEIC, GIF, TIFF or SVG file; not modified
 * @returns `luminance` [rows, columns] 0..65535, and `opacity` of the same shape if anything is transparent
 * @throws SpotpitchError `INPUT_EMPTY`, `INPUT_NOT_AN_IMAGE`, `INPUT_DAMAGED`, `INPUT_TOO_LARGE`, `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export async function decodePhoto(bytes: Uint8Array, options: DecodePhotoOptions = {}): Promise<Photo> {
  return decode(
    checkedBytes(bytes),
    decodeOptions(options, ["fileName", "minColumns", "minRows", "maxPixels"]),
  );
}

/**
 * What a file declares about its picture (format, columns and rows of the upright picture), without decoding it. It refuses the
 * files that `decodePhoto` refuses by their first bytes.
 *
 * @throws SpotpitchError as `decodePhoto`
 */
export async function inspectPhoto(
  bytes: Uint8Array,
  options: Pick<DecodePhotoOptions, "fileName" | "maxPixels"> = {},
): Promise<PhotoFacts> {
  return inspect(checkedBytes(bytes), decodeOptions(options, ["fileName", "maxPixels"]));
}

function decodeOptions(options: DecodePhotoOptions, takes: readonly string[]) {
  const { fileName, minColumns, minRows, maxPixels } = knownOptions(options, takes);
  return {
    ...(fileName !== undefined && { fileName: String(fileName) }),
    ...(minColumns !== undefined && { minColumns: numberOption("minColumns", minColumns, 1, MAX_SIDE) }),
    ...(minRows !== undefined && { minRows: numberOption("minRows", minRows, 1, MAX_SIDE) }),
    ...(maxPixels !== undefined && { maxPixels: numberOption("maxPixels", maxPixels, 1, MAX_SIDE ** 2) }),
  };
}

function checkedBytes(bytes: unknown): Uint8Array {
  if (bytes instanceof Uint8Array) return bytes;
  throw invalidOption("bytes", "bytes takes a Uint8Array: the content of a picture file.");
}
