import type { Metadata } from "sharp";
import { loadDecoder, reading } from "./decoder.js";
import { decodingBytes } from "./decoding-bytes.js";
import type { DrawingContent } from "./drawing/drawing-content.js";
import { DRAWING_DENSITY, drawingUnits } from "./drawing/drawing-size.js";
import { isCompressed } from "./drawing/drawing-text.js";
import { fileKind } from "./file-kind.js";
import {
  type DecodeOptions,
  MAX_PHOTO_PIXELS,
  type PhotoFacts,
  type PhotoFormat,
  photoFormats,
} from "./photo.js";
import type { PhotoSource } from "./photo-source.js";
import { emptyPhoto, guarded, oversizedPhoto, photoName, unreadablePhoto } from "./refusals.js";
import { startsWithPreview } from "./tiff-preview.js";

/** A file that may be decoded, by what it declares. */
export interface OpenedPhoto extends PhotoSource {
  readonly header: Metadata;
  readonly format: PhotoFormat;
  /** Present if it is a drawing. */
  readonly drawing?: DrawingContent & { readonly embeddedPixels: number };
}

/**
 * Read what a file declares, without decoding it.
 *
 * @throws SpotpitchError `INPUT_EMPTY`, `INPUT_NOT_AN_IMAGE`, `INPUT_DAMAGED`, `INPUT_TOO_LARGE` or `INPUT_UNSAFE_DRAWING`
 */
export async function openPhoto(
  bytes: Uint8Array,
  { fileName, role, maxPixels = MAX_PHOTO_PIXELS }: DecodeOptions,
): Promise<OpenedPhoto> {
  const name = photoName(fileName, role);
  if (bytes.length === 0) throw emptyPhoto(name);
  const decoder = await loadDecoder();
  const drawing = isCompressed(bytes) || fileKind(bytes)?.isDrawing ? await readContent(bytes) : undefined;
  // Only entities need the limits of the parser. They would keep out large embedded pictures too.
  const unlimited = drawing !== undefined && !drawing.hasDeclarations;
  const source: PhotoSource = { decoder, bytes, name, reading: { ...reading, unlimited } };
  const header = await guarded(name, bytes, readHeader(source));
  const format = acceptedFormat(header, bytes, name);
  const [columns, rows] = declaredSides({ header, format });
  const limitPixels = Math.min(maxPixels, MAX_PHOTO_PIXELS);
  if (columns * rows > limitPixels) throw oversizedPhoto(name, columns, rows, limitPixels);
  if (format !== "svg") return { ...source, header, format };
  await guarded(name, bytes, checkSize(source, header));
  const content = drawing ?? (await readContent(bytes));
  const { embeddedPixels } = await import("./drawing/embedded-pictures.js");
  const pixels = await embeddedPixels(source, content.pictures, limitPixels);
  return { ...source, header, format, drawing: { ...content, embeddedPixels: pixels } };
}

/** Loaded on first use, because few photos are drawings. */
async function readContent(bytes: Uint8Array): Promise<DrawingContent> {
  return (await import("./drawing/drawing-content.js")).drawingContent(bytes);
}

const declaredSides = ({
  header: { width, height },
  format,
}: Pick<OpenedPhoto, "header" | "format">): number[] =>
  [width, height].map(format === "svg" ? drawingUnits : Number);

export function factsOf(opened: OpenedPhoto): PhotoFacts {
  const { header, format } = opened;
  const sides = declaredSides(opened);
  const [columns, rows] = (header.orientation ?? 1) > 4 ? sides.reverse() : sides;
  return { format, columns, rows, decodingBytes: decodingBytes(opened) };
}

async function readHeader(
  { decoder, bytes, reading }: PhotoSource,
  density = DRAWING_DENSITY,
): Promise<Metadata> {
  return decoder(bytes, { ...reading, density }).metadata();
}

/** The renderer reports a side that is too large for it as one pixel, at any density. */
async function checkSize(source: PhotoSource, { width, height }: Metadata): Promise<void> {
  if (width > 1 && height > 1) return;
  const enlarged = await readHeader(source, 10 * DRAWING_DENSITY);
  if (enlarged.width > 1 && enlarged.height > 1) return;
  throw new RangeError("The drawing has no usable size.");
}

/** Refuses what the decoder would fail on or silently misread. */
function acceptedFormat(header: Metadata, bytes: Uint8Array, name: string): PhotoFormat {
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
  const inHeif = header.compression === "hevc" ? "heic" : "avif";
  const found = header.format === "heif" ? inHeif : header.format;
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
