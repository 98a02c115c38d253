import type { RefusalTable } from "./entry.js";

export const readableFormats = "a JPEG, PNG, WebP, AVIF, GIF, TIFF or SVG picture";

export interface Named {
  /** The picture as it stands at the start of a sentence: its name in quotes, or "The photo". */
  readonly name: string;
}

export interface TooLarge extends Named {
  readonly columns: number;
  readonly rows: number;
  readonly maxPixels: number;
}

const megapixels = (pixels: number): string => `${Math.round(pixels / 1e6)} megapixels`;

/** Most pixels of a picture, in words. */
export const pixelsAllowed = (max: number): string => `up to ${max} pixels (${megapixels(max)})`;

/** Pictures that cannot be used. */
export const photoRefusals = {
  "photo-empty": {
    code: "INPUT_EMPTY",
    words: ({ name }: Named) =>
      `${name} is empty (0 bytes). Allowed: ${readableFormats}. Export or upload it again.`,
  },
  "photo-damaged": {
    code: "INPUT_DAMAGED",
    words: ({ name, kind }: Named & { readonly kind: string }) =>
      `${name} starts as ${kind}, but is damaged, incomplete or of an unusual variant. Allowed: a complete file. Copy or upload it again. If that does not help, open it in another program and save it as PNG.`,
  },
  "photo-unreadable": {
    code: "INPUT_NOT_AN_IMAGE",
    words: ({ name, what, advice }: Named & { readonly what: string; readonly advice: string }) =>
      `${name} is ${what}. Allowed: ${readableFormats}. ${advice}`.trimEnd(),
  },
  "photo-too-large": {
    code: "INPUT_TOO_LARGE",
    words: ({ name, columns, rows, maxPixels }: TooLarge) =>
      `${name} declares ${columns} × ${rows} pixels (${megapixels(columns * rows)}). Allowed: ${pixelsAllowed(maxPixels)}. Scale it down and try again.`,
  },
  "mask-shape": {
    code: "INPUT_MASK_SHAPE",
    option: "mask",
    words: ({
      fileName,
      mask,
      photo,
    }: {
      readonly fileName?: string;
      /** Columns and rows. */
      readonly mask: readonly [number, number];
      readonly photo: readonly [number, number];
    }) =>
      `The mask${fileName === undefined ? "" : ` "${fileName}"`} has another shape than the photo: it has ${mask.join(" × ")} pixels, and the upright photo has ${photo.join(" × ")}. Draw the mask over the whole, uncropped photo. Any size of that shape will do.`,
  },
} satisfies RefusalTable;
