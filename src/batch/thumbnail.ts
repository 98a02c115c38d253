import { pieceOfPreview } from "../6-report/pictures/piece-of-preview.js";
import type { Report } from "../6-report/report.js";
import { onWhite } from "../core/on-white.js";
import { columnsOf, denseData, rowsOf } from "../core/plane.js";
import type { Photo, PhotoFacts } from "../pipeline/decoding.js";
import { sha256 } from "./sha256.js";

/** Longer side, in pixels: sharp at the desk on a screen of double density. */
const LONGER_SIDE_PX = 320;
const SMALL = {
  width: LONGER_SIDE_PX,
  height: LONGER_SIDE_PX,
  fit: "inside",
  withoutEnlargement: true,
} as const;
const WEBP = { quality: 60 } as const;

/** The name of a small picture's file, after its content. */
export const thumbnailName = (base64: string): string => `${sha256(base64).slice(0, 20)}.webp`;
/** Any such name. */
export const THUMBNAIL_NAME = /^[0-9a-f]{20}\.webp$/;

/**
 * A small WebP of the piece, cut from its preview file without the frame on it. A cone shows the whole file, because its sheet is no rectangle.
 */
export async function thumbnail(
  preview: Uint8Array,
  { widthMm, heightMm, columns, rows, around }: Report["job"],
): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  if (around?.cone) return sharp(preview).resize(SMALL).webp(WEBP).toBuffer();
  const piece = await pieceOfPreview(preview, { burnColumns: columns, burnRows: rows, widthMm, heightMm });
  return sharp(piece.rgb, { raw: { width: piece.columns, height: piece.rows, channels: 3 } })
    .resize(SMALL)
    .webp(WEBP)
    .toBuffer();
}

/** Above, a file is not decoded a second time for its colours. JPEG is decoded small. */
const COLOUR_PIXELS = 25e6;

/**
 * A small WebP in colour of a file as it was sent, upright. Undefined if that would be costly, or if this decoder does not read the
 * file. It is made before anything else is decoded, so that both never need memory at once.
 */
export async function colourThumbnail(
  bytes: Uint8Array,
  { format, columns, rows }: Pick<PhotoFacts, "format" | "columns" | "rows">,
): Promise<Uint8Array | undefined> {
  if (format === "svg" || (format !== "jpeg" && columns * rows > COLOUR_PIXELS)) return;
  const { default: sharp } = await import("sharp");
  // The file has been accepted; the decoder's own limit on pixels is another than the batch's.
  const reading = { failOn: "none", limitInputPixels: false, autoOrient: true } as const;
  return sharp(bytes, reading)
    .resize(SMALL)
    .toColourspace("srgb")
    .webp(WEBP)
    .toBuffer()
    .catch(() => undefined);
}

/** The same of a decoded photo, in grey. Transparent parts are white, as paper is. */
export async function greyThumbnail({ luminance, opacity }: Photo): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  const raw = { width: columnsOf(luminance), height: rowsOf(luminance), channels: 1 } as const;
  const light = denseData(luminance);
  const opaque = opacity && denseData(opacity);
  const codes = opaque ? light.map((code, i) => onWhite(code, opaque[i])) : light;
  return sharp(codes, { raw, limitInputPixels: false })
    .resize(SMALL)
    .toColourspace("b-w")
    .webp(WEBP)
    .toBuffer();
}
