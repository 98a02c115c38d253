import { setImmediate } from "node:timers/promises";
import type { Metadata, OutputInfo, Sharp, SharpOptions } from "sharp";
import { type Plane, plane } from "../core/plane.js";
import { refusal } from "../core/refusals/refusals.js";
import { DRAWING_DENSITY, drawingColumns, drawingUnits } from "./drawing-size.js";
import { type FlatColour, flatColours } from "./flat-colours.js";
import { isOutOfStep, readJpegScan } from "./jpeg-scan.js";
import { looksLikeArtwork } from "./looks-like-artwork.js";
import {
  type BegunPhoto,
  type DecodeOptions,
  MAX_PHOTO_PIXELS,
  type Photo,
  type PhotoFacts,
  type PhotoFormat,
  photoFormats,
} from "./photo.js";
import { emptyPhoto, oversizedPhoto, photoName, undecodablePhoto, unreadablePhoto } from "./refusals.js";
import { startsWithPreview } from "./tiff-preview.js";

export type { BegunPhoto, Photo, PhotoFacts } from "./photo.js";

interface Decoder {
  (input: Uint8Array | Uint16Array, options?: SharpOptions): Sharp;
  concurrency(threads: number): number;
}

/**
 * Decoder options for every file. Level "error" was chosen by trial: it refuses truncated files and broken TIFF and PNG data,
 * but accepts the unusual headers and stray bytes that cameras write. Level "warning" refuses those too. The decoder's
 * limit on pixels is off, because its error does not state the declared size.
 */
const reading = { failOn: "error", limitInputPixels: false, density: DRAWING_DENSITY } as const;

const OPAQUE = 65535;

/**
 * Decode a picture to sRGB-encoded luminance: upright after its Exif orientation, with its colour profile applied, the first frame
 * or page only. Luminance is 0.2126 R + 0.7152 G + 0.0722 B of linear light (ITU-R BT.709), encoded again with the curve of IEC
 * 61966-2-1; transparent pixels keep the luminance of their colour.
 *
 * @param bytes a JPEG, PNG, WebP, AVIF, GIF, TIFF or SVG file; not modified
 * @throws SpotpitchError `INPUT_EMPTY`, `INPUT_NOT_AN_IMAGE`, `INPUT_DAMAGED` or `INPUT_TOO_LARGE`
 */
export async function decodePhoto(bytes: Uint8Array, options: DecodeOptions = {}): Promise<Photo> {
  const name = photoName(options.fileName, options.role);
  if (bytes.length === 0) throw emptyPhoto(name);
  const decoder = await loadDecoder();
  const { header, format } = await acceptedHeader(decoder, bytes, name, options.maxPixels);
  const columns =
    format === "svg"
      ? drawingColumns(header.width, header.height, options.minColumns, options.minRows)
      : undefined;
  const scan = format === "jpeg" ? readJpegScan(bytes) : undefined;
  const begin = (failOn: FailOn) => readPixels(decoder, bytes, header, failOn, columns);
  const reading = format === "jpeg" && !scan ? readWithDamageCheck(begin) : begin("error");
  options.onBegun?.(factsOf(header, format));
  // Runs while the decoder's threads work, after the caller has continued.
  const outOfStep = scan && setImmediate().then(() => isOutOfStep(bytes, scan));
  const { data, info, looksDamaged } = await guarded(name, bytes, reading);
  const planes = splitChannels(codesOf(data), info.height, info.width, info.channels);
  const colours = looksLikeArtwork(planes)
    ? await guarded(name, bytes, readColours(decoder, bytes))
    : undefined;
  return {
    ...planes,
    ...(colours && { colours }),
    format,
    sourceBits: header.bitsPerSample ?? (header.depth === "uchar" ? 8 : 16),
    hadProfile: header.hasProfile,
    orientation: header.orientation ?? 1,
    pages: header.pages ?? 1,
    looksDamaged: looksDamaged ?? (await outOfStep) ?? false,
  };
}

/**
 * What a file declares, without decoding it. It refuses what `decodePhoto` refuses by the first bytes.
 *
 * @throws SpotpitchError `INPUT_EMPTY`, `INPUT_NOT_AN_IMAGE`, `INPUT_DAMAGED` or `INPUT_TOO_LARGE`
 */
export async function inspectPhoto(
  bytes: Uint8Array,
  options: Pick<DecodeOptions, "fileName" | "maxPixels"> = {},
): Promise<PhotoFacts> {
  const name = photoName(options.fileName);
  if (bytes.length === 0) throw emptyPhoto(name);
  const { header, format } = await acceptedHeader(await loadDecoder(), bytes, name, options.maxPixels);
  return factsOf(header, format);
}

function factsOf(header: Metadata, format: PhotoFormat): PhotoFacts {
  const sides = [header.width, header.height].map(format === "svg" ? drawingUnits : Number);
  const [columns, rows] = (header.orientation ?? 1) > 4 ? sides.reverse() : sides;
  return { format, columns, rows };
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

/** Loaded on first use, because loading it takes longer than the rest of the start of the command. */
async function loadDecoder(): Promise<Decoder> {
  try {
    return (await import("sharp")).default;
  } catch (cause) {
    throw refusal("decoder-missing", {}, { cause });
  }
}

/**
 * Sets the number of decoder threads. Two threads decode a photograph in half the time of one, the default on some systems. The
 * setting applies to the whole process, so only programs call this, not libraries.
 */
export async function useDecoderThreads(threads: number): Promise<void> {
  const decoder = await loadDecoder();
  decoder.concurrency(threads);
}

async function guarded<T>(name: string, bytes: Uint8Array, work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (cause) {
    throw undecodablePhoto(name, bytes, cause);
  }
}

async function acceptedHeader(
  decoder: Decoder,
  bytes: Uint8Array,
  name: string,
  maxPixels = MAX_PHOTO_PIXELS,
) {
  const header = await guarded(name, bytes, readHeader(decoder, bytes));
  const format = acceptedFormat(header, bytes, name);
  const drawn = format === "svg";
  const [columns, rows] = [header.width, header.height].map(drawn ? drawingUnits : Number);
  const limitPixels = Math.min(maxPixels, MAX_PHOTO_PIXELS);
  if (columns * rows > limitPixels) throw oversizedPhoto(name, columns, rows, limitPixels);
  if (drawn) await guarded(name, bytes, checkDrawing(decoder, bytes, header));
  return { header, format };
}

async function readHeader(decoder: Decoder, bytes: Uint8Array, density = DRAWING_DENSITY): Promise<Metadata> {
  return decoder(bytes, { ...reading, density }).metadata();
}

/** The renderer reports a side that is too large for it as one pixel, at any density. */
async function checkDrawing(decoder: Decoder, bytes: Uint8Array, { width, height }: Metadata): Promise<void> {
  if (width > 1 && height > 1) return;
  const enlarged = await readHeader(decoder, bytes, 10 * DRAWING_DENSITY);
  if (enlarged.width > 1 && enlarged.height > 1) return;
  throw new RangeError("The drawing has no usable size.");
}

/** Refuses what the decoder would fail on or silently misread. */
function acceptedFormat(header: Metadata, bytes: Uint8Array, name: string): PhotoFormat {
  if (header.compression === "hevc") {
    throw undecodablePhoto(name, bytes, new Error("The decoder comes without HEVC."));
  }
  const integers = header.depth === "uchar" || header.depth === "ushort" || header.space === "labs";
  if (!integers) {
    const what = `a picture with ${header.bitsPerSample ?? 32}-bit ${header.depth} samples, which cannot be read`;
    throw unreadablePhoto(name, what, "Save it with 8 or 16 bits per channel and try again.");
  }
  if (header.format === "tiff" && startsWithPreview(bytes)) {
    const what = "a camera raw file, or a TIFF that shows only a preview";
    throw unreadablePhoto(
      name,
      what,
      "Develop it, export the full picture as JPEG, PNG or TIFF and try again.",
    );
  }
  const found = header.format === "heif" ? "avif" : header.format;
  const format = photoFormats.find((known) => known === found);
  if (format === undefined) {
    throw unreadablePhoto(
      name,
      `a ${found} picture, which cannot be read`,
      "Export it as PNG and try again.",
    );
  }
  return format;
}

type FailOn = "error" | "warning";

interface DecodedPixels {
  readonly data: Uint8Array;
  readonly info: OutputInfo;
  /** Absent if the decoder cannot tell. */
  readonly looksDamaged?: boolean;
}

/** Messages about unusual headers and a few stray bytes between segments, as cameras write them. */
const HARMLESS = /^VipsJpeg: (Warning: |Corrupt JPEG data: [1-8] extraneous bytes )/;

/**
 * The pixels of a JPEG with several scans. Its decoder detects data that are out of step: in strict mode it stops there. A second
 * run without strict mode decodes what it can.
 */
async function readWithDamageCheck(
  begin: (failOn: FailOn) => Promise<DecodedPixels>,
): Promise<DecodedPixels> {
  try {
    return await begin("warning");
  } catch (cause) {
    const complaints = cause instanceof Error ? cause.message.trim().split("\n") : [];
    return { ...(await begin("error")), looksDamaged: !complaints.every((line) => HARMLESS.test(line)) };
  }
}

async function readPixels(
  decoder: Decoder,
  bytes: Uint8Array,
  header: Metadata,
  failOn: FailOn,
  drawingWidth?: number,
): Promise<DecodedPixels> {
  let source = decoder(bytes, { ...reading, failOn, autoOrient: true });
  // For a drawing the decoder renders at this scale and keeps the aspect ratio.
  if (drawingWidth !== undefined) source = source.resize({ width: drawingWidth });
  if (header.hasProfile && header.space === "rgb16") {
    // With 16 bits and a profile the decoder works in Display P3, and its grey weights those primaries like those of sRGB:
    // luminance is up to 6 % off. So convert to sRGB first.
    const { data, info } = await source
      .toColourspace("rgb16")
      .withIccProfile("srgb")
      .raw({ depth: "ushort" })
      .toBuffer({ resolveWithObject: true });
    const { width, height, channels } = info;
    source = decoder(codesOf(data), { raw: { width, height, channels } });
  } else if (header.hasProfile && header.space === "grey16") {
    // The decoder applies grey profiles only at 8 bits. The right tone matters more than finer steps.
    source = source.pipelineColourspace("b-w");
  }
  return source.toColourspace("grey16").raw({ depth: "ushort" }).toBuffer({ resolveWithObject: true });
}

/** Longer side of the picture whose colours are counted. */
const COLOUR_SAMPLE_PX = 256;

/** The colours of a drawing. Its own pixels are read, not means of them, which would be other colours. */
async function readColours(decoder: Decoder, bytes: Uint8Array): Promise<FlatColour[] | undefined> {
  const side = COLOUR_SAMPLE_PX;
  const { data, info } = await decoder(bytes, reading)
    .resize(side, side, {
      fit: "inside",
      kernel: "nearest",
      fastShrinkOnLoad: false,
      withoutEnlargement: true,
    })
    .toColourspace("srgb")
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return flatColours(data, info.width);
}

/** The decoder's bytes as 16-bit codes in the byte order of this computer; a view if the alignment allows it. */
function codesOf(data: Uint8Array): Uint16Array {
  const aligned = data.byteOffset % 2 === 0 ? data : new Uint8Array(data);
  return new Uint16Array(aligned.buffer, aligned.byteOffset, aligned.byteLength / 2);
}

function splitChannels(
  codes: Uint16Array,
  rows: number,
  columns: number,
  channels: number,
): Pick<Photo, "luminance" | "opacity"> {
  if (channels === 1) return { luminance: plane("encoded-luminance", codes, rows, columns) };
  const luminance = new Uint16Array(rows * columns);
  // Moved together in place: a copy would need a third more memory for a large drawing.
  const opacity = codes.subarray(0, rows * columns);
  let minOpacity = OPAQUE;
  for (let i = 0, at = 0; i < luminance.length; i++, at += channels) {
    luminance[i] = codes[at];
    const value = codes[at + 1];
    opacity[i] = value;
    if (value < minOpacity) minOpacity = value;
  }
  const light: Plane<"encoded-luminance", Uint16Array> = plane("encoded-luminance", luminance, rows, columns);
  if (minOpacity === OPAQUE) return { luminance: light };
  return { luminance: light, opacity: plane("opacity", opacity, rows, columns) };
}
