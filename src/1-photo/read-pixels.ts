import type { OutputInfo } from "sharp";
import { type Plane, plane } from "../core/plane.js";
import { type FlatColour, flatColours } from "./flat-colours.js";
import type { OpenedPhoto } from "./open-photo.js";
import type { Photo } from "./photo.js";

export type FailOn = "error" | "warning";

export interface DecodedPixels {
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
export async function readWithDamageCheck(
  begin: (failOn: FailOn) => Promise<DecodedPixels>,
): Promise<DecodedPixels> {
  try {
    return await begin("warning");
  } catch (cause) {
    const complaints = cause instanceof Error ? cause.message.trim().split("\n") : [];
    return { ...(await begin("error")), looksDamaged: !complaints.every((line) => HARMLESS.test(line)) };
  }
}

export async function readPixels(
  { decoder, bytes, reading, header }: OpenedPhoto,
  failOn: FailOn,
  drawingColumns?: number,
): Promise<DecodedPixels> {
  let source = decoder(bytes, { ...reading, failOn, autoOrient: true });
  // For a drawing the decoder renders at this scale and keeps the aspect ratio.
  if (drawingColumns !== undefined) source = source.resize({ width: drawingColumns });
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
export async function readColours({
  decoder,
  bytes,
  reading,
}: OpenedPhoto): Promise<FlatColour[] | undefined> {
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

const OPAQUE = 65535;

/** The decoder's bytes as 16-bit codes in the byte order of this computer; a view if the alignment allows it. */
export function codesOf(data: Uint8Array): Uint16Array {
  const aligned = data.byteOffset % 2 === 0 ? data : new Uint8Array(data);
  return new Uint16Array(aligned.buffer, aligned.byteOffset, aligned.byteLength / 2);
}

export function splitChannels(
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
