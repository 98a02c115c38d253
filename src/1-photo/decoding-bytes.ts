import type { Metadata } from "sharp";
import type { PhotoFormat } from "./photo.js";

/** What a file declares, as far as it tells of memory. */
interface Declared {
  readonly bytes: Uint8Array;
  readonly header: Metadata;
  readonly format: PhotoFormat;
  readonly drawing?: {
    /** Characters of its text. */
    readonly length: number;
    readonly elements: number;
    readonly embeddedPixels: number;
  };
}

/** Codes of light as decoded, and once more where opacity is split from them. */
const CODE_BYTES = 4;
/** What each decoder holds beside, for each pixel; measured at 12 and 35 megapixels with a quarter to spare. */
const DECODER_BYTES: Readonly<Record<PhotoFormat, number>> = {
  jpeg: 2,
  png: 1,
  webp: 5,
  avif: 16,
  heic: 14,
  gif: 5,
  tiff: 3,
  // Counted by what is in the drawing.
  svg: 0,
};
/** Codes of more than 8 bits of an AVIF picture take twice as much. */
const DEEP_AVIF_BYTES = 24;

/** What the parser and the renderer of a drawing hold: for each character, element and pixel of a picture in it. */
const LETTER_BYTES = 6;
const ELEMENT_BYTES = 4000;
const EMBEDDED_BYTES = 11;

/**
 * An upper estimate of the memory that decoding takes, in bytes, with the file itself. Of a drawing, without the rendered pixels: their
 * number depends on the piece.
 */
export function decodingBytes({ bytes, header, format, drawing }: Declared): number {
  if (drawing) {
    const { length, elements, embeddedPixels } = drawing;
    return bytes.length + LETTER_BYTES * length + ELEMENT_BYTES * elements + EMBEDDED_BYTES * embeddedPixels;
  }
  const perPixel = CODE_BYTES + decoderBytes(header, format) + copyBytes(header);
  return bytes.length + perPixel * header.width * header.height;
}

function decoderBytes({ isProgressive, bitsPerSample = 8, channels }: Metadata, format: PhotoFormat) {
  if (format === "avif" && bitsPerSample > 8) return DEEP_AVIF_BYTES;
  // Rows of an interlaced picture come out of order: all of it is held.
  const whole = isProgressive ? channels * (bitsPerSample > 8 ? 2 : 1) : 0;
  return DECODER_BYTES[format] + (format === "png" || format === "jpeg" ? whole : 0);
}

/** Opacity is split off. Pictures with a profile and 16 bits are converted to another copy first. */
function copyBytes({ hasAlpha, hasProfile, space, channels }: Metadata): number {
  return (hasAlpha ? 2 : 0) + (hasProfile && space === "rgb16" ? 2 * channels : 0);
}
