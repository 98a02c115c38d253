import type { Metadata } from "sharp";
import type { Decoder } from "../decoder.js";
import type { PhotoSource } from "../photo-source.js";
import { undecodablePhoto, unreadablePhoto } from "../refusals.js";
import { codedColours } from "./heif-colours.js";
import { type HeifCode, type HeifLibrary, loadHeif } from "./heif-library.js";
import { rawTiff } from "./raw-tiff.js";

/** What to do if a photo of a phone cannot be read. */
const SEND_JPEG =
  "Send it as JPEG: share it from the phone in the most compatible format, or set the camera to JPEG.";

/** Code points of ISO/IEC 23091-2. */
const DISPLAY_P3 = 12;
/** Unspecified, and those of sRGB or so near that nobody sees it. */
const LIKE_SRGB: readonly number[] = [1, 2, 5, 6];
const HIGH_RANGE: readonly number[] = [16, 18];

/**
 * Decode the main picture of a HEIC file to an uncompressed TIFF file with its colour profile. The decoder turns and mirrors it as
 * the file says.
 *
 * @param header of the file; the picture must have the size that it declares
 * @throws SpotpitchError `INPUT_NOT_AN_IMAGE` or `INPUT_DAMAGED`
 */
export async function heicAsTiff(source: PhotoSource, header: Metadata): Promise<Uint8Array> {
  const { decoder, bytes, name } = source;
  const colours = header.icc ? undefined : codedColours(bytes);
  const isWide = colours && !LIKE_SRGB.includes(colours.primaries) && colours.primaries !== DISPLAY_P3;
  if (colours && (isWide || HIGH_RANGE.includes(colours.transfer))) {
    throw unreadablePhoto(
      name,
      "a HEIC photo with the colours of an HDR screen, which cannot be read",
      SEND_JPEG,
    );
  }
  const library = await loadHeif().catch((cause: unknown) => {
    throw unreadablePhoto(name, "a HEIC photo, which cannot be read", SEND_JPEG, cause);
  });
  const profile = colours?.primaries === DISPLAY_P3 ? await displayP3(decoder) : header.icc;
  try {
    return await decoded(library, bytes, { ...header, profile });
  } catch (cause) {
    throw undecodablePhoto(name, bytes, cause);
  }
}

type Wanted = Pick<Metadata, "width" | "height" | "hasAlpha"> & { readonly profile: Uint8Array | undefined };

async function decoded(heif: HeifLibrary, bytes: Uint8Array, wanted: Wanted): Promise<Uint8Array> {
  const context = heif.heif_context_alloc();
  try {
    assertDone(heif.heif_context_read_from_memory(context, bytes));
    const handle = heif.heif_js_context_get_primary_image_handle(context);
    assertDone(handle);
    try {
      return await tiffOf(heif, handle, wanted);
    } finally {
      heif.heif_image_handle_release(handle);
    }
  } finally {
    heif.heif_context_free(context);
  }
}

async function tiffOf(heif: HeifLibrary, handle: object, wanted: Wanted): Promise<Uint8Array> {
  const { heif_colorspace_RGB } = heif.heif_colorspace;
  const { heif_chroma_interleaved_RGBA } = heif.heif_chroma;
  const made = await heif.heif_js_decode_image2(handle, heif_colorspace_RGB, heif_chroma_interleaved_RGBA);
  assertDone(made);
  try {
    const [{ width, height, stride, data }] = made.channels;
    if (width !== wanted.width || height !== wanted.height) throw new Error("Another size than declared.");
    const channels = wanted.hasAlpha ? 4 : 3;
    const packed = packedRows(data, { columns: width, rows: height, stride, channels });
    return rawTiff({ columns: width, rows: height, channels, data: packed, profile: wanted.profile });
  } finally {
    heif.heif_image_release(made.image);
  }
}

function assertDone(result: HeifCode): void {
  const { code, message } = result;
  if (code !== undefined && code.value !== 0) throw new Error(message ?? "The picture cannot be decoded.");
}

interface Grid {
  readonly columns: number;
  readonly rows: number;
  /** Bytes from row to row of the source. */
  readonly stride: number;
  readonly channels: 3 | 4;
}

/** Rows of four channels without the gaps between them, and without the fourth if it says nothing. */
function packedRows(data: Uint8Array, { columns, rows, stride, channels }: Grid): Uint8Array {
  const packed = new Uint8Array(columns * rows * channels);
  for (let y = 0, to = 0; y < rows; y++) {
    for (let x = 0, from = y * stride; x < columns; x++, from += 4, to += channels) {
      packed[to] = data[from];
      packed[to + 1] = data[from + 1];
      packed[to + 2] = data[from + 2];
      if (channels === 4) packed[to + 3] = data[from + 3];
    }
  }
  return packed;
}

/** The profile of Display P3 that comes with the decoder. */
async function displayP3(decoder: Decoder): Promise<Uint8Array | undefined> {
  const pixel = decoder(new Uint8Array(3), { raw: { width: 1, height: 1, channels: 3 } });
  const file = await pixel.withIccProfile("p3").png().toBuffer();
  return (await decoder(file).metadata()).icc;
}
