import type { Plane } from "../core/plane.js";

/** A decoded photo: upright, one channel of light, and the facts of the file that a report may want. */
export interface Photo {
  /** [rows, columns], sRGB-encoded BT.709 luminance as 16-bit codes, not multiplied by opacity. */
  readonly luminance: Plane<"encoded-luminance", Uint16Array>;
  /** Same shape; absent where every pixel is opaque. */
  readonly opacity?: Plane<"opacity", Uint16Array>;
  readonly format: PhotoFormat;
  /** Bits per sample in the file: 1, 2, 4, 8, 10, 12 or 16. */
  readonly sourceBits: number;
  /** Whether the file carries a colour profile. One that can be read has been followed. */
  readonly hadProfile: boolean;
  /** Exif orientation 1..8 that has been undone; 1 where the file says nothing. */
  readonly orientation: number;
  /** Frames or pages in the file. Only the first is here. */
  readonly pages: number;
  /**
   * Whether the file's picture data were changed on the way, as far as they let it be known: JPEG data by codes out of step.
   * Parts of the picture may be wrong then.
   */
  readonly looksDamaged: boolean;
}

/** Formats of picture files that can be read. */
export const photoFormats = ["jpeg", "png", "webp", "avif", "gif", "tiff", "svg"] as const;

/** One of `photoFormats`. */
export type PhotoFormat = (typeof photoFormats)[number];

/** What a file declares about its picture. */
export interface PhotoFacts {
  readonly format: PhotoFormat;
  /** As they are seen, that is, after the orientation; user units of a drawing. */
  readonly columns: number;
  readonly rows: number;
}

/** A photo whose decoding has begun on other threads, or that has been refused: the promise says which. */
export interface BegunPhoto {
  /** Absent where it has been refused. */
  readonly facts?: PhotoFacts;
  readonly photo: Promise<Photo>;
}

export interface DecodeOptions {
  /** Name to use in messages. What the file is follows from its bytes alone. */
  readonly fileName?: string;
  /** What the picture is to the user, where it has no name. Default: photo. */
  readonly role?: "photo" | "mask";
  /** Columns and rows that a drawing (SVG) is rendered with, at least; other formats have their own. Default 1000 and 1. */
  readonly minimumColumns?: number;
  readonly minimumRows?: number;
  /** Most pixels that the file may declare, where that is less than `maximumPixels`. */
  readonly maxPixels?: number;
  /** Called once other threads have begun to decode, so that this one may turn to something else. */
  readonly onBegun?: (facts: PhotoFacts) => void;
}

/** Largest accepted picture, in pixels: 16383². Decoding then takes up to about 3 GB (16 bits, opacity, profile). */
export const maximumPixels = 0x3fff ** 2;
