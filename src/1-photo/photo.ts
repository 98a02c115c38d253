import type { Plane } from "../core/plane.js";
import type { FlatColour } from "./flat-colours.js";

/** A decoded photo: upright, one channel of light, and facts about the file for the report. */
export interface Photo {
  /** [rows, columns], sRGB-encoded BT.709 luminance as 16-bit codes, not multiplied by opacity. */
  readonly luminance: Plane<"encoded-luminance", Uint16Array>;
  /** Same shape; absent if every pixel is opaque. */
  readonly opacity?: Plane<"opacity", Uint16Array>;
  readonly format: PhotoFormat;
  /** Bits per sample in the file: 1, 2, 4, 8, 10, 12 or 16. */
  readonly sourceBits: number;
  /** Whether the file has a colour profile. A readable profile has been applied. */
  readonly hadProfile: boolean;
  /** Exif orientation 1..8 of the file, which has been applied; 1 if the file has none. */
  readonly orientation: number;
  /** Frames or pages in the file. Only the first is here. */
  readonly pages: number;
  /** The colours of a drawing with only a few; absent for other pictures. */
  readonly colours?: readonly FlatColour[];
  /** Whether a drawing has text in a font: this computer draws it, in another font if it lacks that one. */
  readonly hasText?: boolean;
  /** Whether the picture data look damaged (in JPEG: codes out of step). Parts of the picture may then be wrong. */
  readonly looksDamaged: boolean;
}

/** Formats of picture files that can be read. */
export const photoFormats = ["jpeg", "png", "webp", "avif", "heic", "gif", "tiff", "svg"] as const;

/** One of `photoFormats`. */
export type PhotoFormat = (typeof photoFormats)[number];

/** What a file declares about its picture. */
export interface PhotoFacts {
  readonly format: PhotoFormat;
  /** After the orientation is applied; in user units for a drawing. */
  readonly columns: number;
  readonly rows: number;
  /** Upper estimate of the memory that decoding takes, with the file; for a drawing, without the rendered pixels. */
  readonly decodingBytes: number;
}

/** A photo that other threads decode, or that has been refused: the promise says which. */
export interface BegunPhoto {
  /** Absent if it has been refused. */
  readonly facts?: PhotoFacts;
  readonly photo: Promise<Photo>;
}

export interface DecodeOptions {
  /** Name for messages. The bytes alone decide the kind of file. */
  readonly fileName?: string;
  /** Word for the picture in messages. Default: photo. */
  readonly role?: "photo" | "mask";
  /** Smallest number of columns and rows of a rendered drawing (SVG); other formats have their own size. Default 1000 and 1. */
  readonly minColumns?: number;
  readonly minRows?: number;
  /** Largest number of pixels that the file may declare. Default and limit: `MAX_PHOTO_PIXELS`. */
  readonly maxPixels?: number;
  /** Called when other threads have started to decode, so that this thread can do other work. */
  readonly onBegun?: (facts: PhotoFacts) => void;
}

/** Largest accepted picture, in pixels: 16383². Decoding then takes up to about 3 GB (16 bits, opacity, profile). */
export const MAX_PHOTO_PIXELS = 0x3fff ** 2;
