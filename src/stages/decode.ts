import { decodePhoto as decode, inspectPhoto as inspect } from "../1-photo/decode.js";
import type { Photo, PhotoFacts } from "../1-photo/photo.js";
import { invalidOption, knownOptions, numberOption } from "./job.js";

/** Options of `decodePhoto`. */
export interface DecodePhotoOptions {
  /** Name to use in messages. What the file is follows from its bytes alone. */
  readonly fileName?: string | undefined;
  /** Columns that a drawing (SVG) is rendered with, at least; other formats have their own. Default 1000. */
  readonly minColumns?: number | undefined;
  /** The same of rows. Default 1. */
  readonly minRows?: number | undefined;
  /** Pixels that the file may declare, at most. Default and limit 16383². */
  readonly maxPixels?: number | undefined;
}

const MAX_SIDE = 0x3fff;

/**
 * Decode a picture to sRGB-encoded luminance: upright after its Exif orientation, its colour profile followed, the first frame
 * or page. Luminance is 0.2126 R + 0.7152 G + 0.0722 B of linear light (ITU-R BT.709, 2015), encoded again by the curve of
 * IEC 61966-2-1 (1999).
 *
 * @param bytes a JPEG, PNG, WebP, AVIF, GIF, TIFF or SVG file; not modified
 * @returns `luminance` [rows, columns] 0..65535, and `opacity` of the same shape where anything is transparent
 * @throws SpotpitchError `INPUT_EMPTY`, `INPUT_NOT_AN_IMAGE`, `INPUT_DAMAGED`, `INPUT_TOO_LARGE`, `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export async function decodePhoto(bytes: Uint8Array, options: DecodePhotoOptions = {}): Promise<Photo> {
  return decode(
    checkedBytes(bytes),
    decodeOptions(options, ["fileName", "minColumns", "minRows", "maxPixels"]),
  );
}

/**
 * What a file declares about its picture (format, columns, rows as they are seen), without decoding it. A file that
 * `decodePhoto` refuses by its first bytes is refused here too.
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
    ...(minColumns !== undefined && { minimumColumns: numberOption("minColumns", minColumns, 1, MAX_SIDE) }),
    ...(minRows !== undefined && { minimumRows: numberOption("minRows", minRows, 1, MAX_SIDE) }),
    ...(maxPixels !== undefined && { maxPixels: numberOption("maxPixels", maxPixels, 1, MAX_SIDE ** 2) }),
  };
}

function checkedBytes(bytes: unknown): Uint8Array {
  if (bytes instanceof Uint8Array) return bytes;
  throw invalidOption("bytes", "bytes takes a Uint8Array: the content of a picture file.");
}
