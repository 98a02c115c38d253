import { setImmediate } from "node:timers/promises";
import { drawingColumns } from "./drawing/drawing-size.js";
import { isOutOfStep, readJpegScan } from "./jpeg-scan.js";
import { looksLikeArtwork } from "./looks-like-artwork.js";
import { factsOf, type OpenedPhoto, openPhoto } from "./open-photo.js";
import type { BegunPhoto, DecodeOptions, Photo, PhotoFacts } from "./photo.js";
import {
  codesOf,
  type FailOn,
  readColours,
  readPixels,
  readWithDamageCheck,
  splitChannels,
} from "./read-pixels.js";
import { guarded } from "./refusals.js";

export { decoderRelease, keepNothingDecoded, useDecoderThreads } from "./decoder.js";
export type { BegunPhoto, Photo, PhotoFacts } from "./photo.js";

/**
 * Decode a picture to sRGB-encoded luminance: upright after its Exif orientation, with its colour profile applied, the first frame
 * or page only. Luminance is 0.2126 R + 0.7152 G + 0.0722 B of linear light (ITU-R BT.709), encoded again with the curve of IEC
 * 61966-2-1; transparent pixels keep the luminance of their colour.
 *
 * @param bytes a JPEG, PNG, WebP, AVIF, HEIC, GIF, TIFF or SVG file; not modified
 * @throws SpotpitchError `INPUT_EMPTY`, `INPUT_NOT_AN_IMAGE`, `INPUT_DAMAGED`, `INPUT_TOO_LARGE` or `INPUT_UNSAFE_DRAWING`
 */
export async function decodePhoto(bytes: Uint8Array, options: DecodeOptions = {}): Promise<Photo> {
  const opened = await openPhoto(bytes, options);
  const { name, header, format, drawing } = opened;
  if (drawing) await checkPictures(opened, drawing.pictures);
  const columns = drawing
    ? drawingColumns(header.width, header.height, options.minColumns, options.minRows)
    : undefined;
  const readable = await asReadable(opened);
  const scan = format === "jpeg" ? readJpegScan(bytes) : undefined;
  const begin = (failOn: FailOn) => readPixels(readable, failOn, columns);
  const reading = format === "jpeg" && !scan ? readWithDamageCheck(begin) : begin("error");
  options.onBegun?.(factsOf(opened));
  // Runs while the decoder's threads work, after the caller has continued.
  const outOfStep = scan && setImmediate().then(() => isOutOfStep(bytes, scan));
  const { data, info, looksDamaged } = await guarded(name, bytes, reading);
  const planes = splitChannels(codesOf(data), info.height, info.width, info.channels);
  const colours = looksLikeArtwork(planes) ? await guarded(name, bytes, readColours(readable)) : undefined;
  return {
    ...planes,
    ...(colours && { colours }),
    ...(drawing?.hasText && { hasText: true }),
    format,
    sourceBits: header.bitsPerSample ?? (header.depth === "uchar" ? 8 : 16),
    hadProfile: readable.header.hasProfile,
    orientation: header.orientation ?? 1,
    pages: header.pages ?? 1,
    looksDamaged: looksDamaged ?? (await outOfStep) ?? false,
  };
}

/**
 * What a file declares, without decoding it. It refuses what `decodePhoto` refuses by the first bytes.
 *
 * @throws SpotpitchError `INPUT_EMPTY`, `INPUT_NOT_AN_IMAGE`, `INPUT_DAMAGED`, `INPUT_TOO_LARGE` or `INPUT_UNSAFE_DRAWING`
 */
export async function inspectPhoto(
  bytes: Uint8Array,
  options: Pick<DecodeOptions, "fileName" | "maxPixels"> = {},
): Promise<PhotoFacts> {
  return factsOf(await openPhoto(bytes, options));
}

/** A HEIC photo goes the way of a TIFF file from here. */
async function asReadable(opened: OpenedPhoto): Promise<OpenedPhoto> {
  if (opened.format !== "heic") return opened;
  const { heicAsTiff } = await import("./heic/heic.js");
  const bytes = await heicAsTiff(opened, opened.header);
  return { ...opened, bytes, header: await opened.decoder(bytes, opened.reading).metadata() };
}

async function checkPictures(opened: OpenedPhoto, pictures: readonly string[]): Promise<void> {
  if (pictures.length === 0) return;
  await (await import("./drawing/embedded-pictures.js")).checkEmbedded(opened, pictures);
}

/**
 * `decodePhoto` for a caller that works in parallel: returns as soon as other threads decode the photo, or the photo is
 * refused.
 */
export async function beginDecoding(
  bytes: Uint8Array,
  options: Omit<DecodeOptions, "onBegun"> = {},
): Promise<BegunPhoto> {
  return new Promise((resolve) => {
    const photo: Promise<Photo> = decodePhoto(bytes, {
      ...options,
      onBegun: (facts) => resolve({ facts, photo }),
    });
    photo.catch(() => resolve({ photo })); // the caller gets the error from `photo`
  });
}
