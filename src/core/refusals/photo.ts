import type { Figures, Texts } from "../told.js";
import { refusedAs } from "./entry.js";

export const readableFormats = "a JPEG, PNG, WebP, AVIF, HEIC, GIF, TIFF or SVG picture";

export interface Named {
  /** The picture at the start of a sentence: its name in quotes, or "The photo". */
  readonly name: string;
}

const megapixels = (pixels: number): string => `${Math.round(pixels / 1e6)} megapixels`;

/** The largest allowed number of pixels, in words. */
export const pixelsAllowed = (max: number): string => `up to ${max} pixels (${megapixels(max)})`;

const noStart = (fileName: string | undefined): string =>
  `A search cannot go on from the bitmap${fileName === undefined ? "" : ` "${fileName}"`}`;

/** Pictures that cannot be used. */
export const photoRefusals = {
  ...refusedAs("INPUT_EMPTY", undefined, {
    "photo-empty": ({ name }: Named) =>
      `${name} is empty (0 bytes). Allowed: ${readableFormats}. Export or upload it again.`,
  }),
  ...refusedAs("INPUT_DAMAGED", undefined, {
    "photo-damaged": ({ name, kind }: Named & Texts<"kind">) =>
      `${name} starts as ${kind}, but is damaged, incomplete or of an unusual variant. Allowed: a complete file. Copy or upload it again. If that does not help, open it in another program and save it as PNG.`,
    "drawing-picture-damaged": ({ name }: Named) =>
      `${name} contains a picture that is damaged, incomplete or of an unknown kind, and would be missing from the engraving. Put that picture into the drawing again as PNG or JPEG, or save the whole drawing as PNG.`,
  }),
  ...refusedAs("INPUT_UNSAFE_DRAWING", undefined, {
    "drawing-picture-not-shown": ({ name, kind }: Named & Texts<"kind">) =>
      `${name} contains ${kind} that would be missing from the engraving: pictures in a drawing are shown only as PNG or JPEG. Put that picture into the drawing again as PNG or JPEG, or save the whole drawing as PNG.`,
  }),
  ...refusedAs("INPUT_NOT_AN_IMAGE", undefined, {
    "photo-unreadable": ({ name, what, advice }: Named & Texts<"what" | "advice">) =>
      `${name} is ${what}. Allowed: ${readableFormats}. ${advice}`.trimEnd(),
  }),
  ...refusedAs("INPUT_TOO_LARGE", undefined, {
    "photo-too-large": ({
      name,
      columns,
      rows,
      maxPixels,
    }: Named & Figures<"columns" | "rows" | "maxPixels">) =>
      `${name} declares ${columns} × ${rows} pixels (${megapixels(columns * rows)}). Allowed: ${pixelsAllowed(maxPixels)}. Scale it down and try again.`,
  }),
  ...refusedAs("INPUT_BITMAP_UNFIT", "startBitmap", {
    "start-bitmap-unfit": ({
      fileName,
      why,
      columns,
      rows,
      levels,
    }: {
      readonly fileName: string | undefined;
      readonly why: string;
      readonly columns: number;
      readonly rows: number;
      readonly levels: number;
    }) =>
      `${noStart(fileName)}: ${why}. This piece has ${columns} × ${rows} pixels and ${levels} power levels. Give a bitmap that was made with the same size, density and levels, as PNG or TIFF.`,
    "start-bitmap-other": ({
      fileName,
      error,
    }: {
      readonly fileName: string | undefined;
      /** Visual error in L*. */
      readonly error: number;
    }) =>
      `${noStart(fileName)}: its tones are ${error.toFixed(0)} L* away from those of this piece, so it shows another picture, or this one with other options. Give a bitmap that was made of this photo with this crop, tone and material, or leave it out.`,
  }),
  ...refusedAs("INPUT_MASK_SHAPE", "mask", {
    "mask-shape": ({
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
  }),
};
