import type { Figures, Texts } from "../told.js";
import { visible } from "../words.js";
import { refusedAs } from "./entry.js";

const digits = (value: number): string => String(Number(value.toPrecision(4)));
const hundredths = (mm: number): string => String(Number(mm.toFixed(2)));
/** Rounded to a tenth of a pixel. */
const pixels = (value: number): string => String(Number(value.toFixed(1)));

type Span = readonly [from: number, to: number];
type Size = readonly [columns: number, rows: number];

export interface CropOutside {
  /** In pixels of the photo; absent if this direction is within it. */
  readonly horizontal?: Span;
  readonly vertical?: Span;
  readonly photo: Size;
}

export interface FocusOutside {
  readonly point: readonly [x: number, y: number];
  /** Absent if the whole photo is kept. */
  readonly kept?: { readonly size: Size; readonly from: readonly [left: number, top: number] };
  readonly photo: Size;
}

export interface OutlineTooWide {
  readonly option: string;
  readonly sidesMm: readonly number[];
  readonly takenMm: number;
  readonly roomMm: number;
}

/** Pieces that cannot be made: conflicts of round pieces, places outside the photo, sizes that are too large. */
export const pieceRefusals = {
  ...refusedAs("OPTION_CONFLICT", "aroundMm", {
    "too-few-columns": ({ closedMm, askedMm }: Figures<"closedMm" | "askedMm">, reader) =>
      `${reader.option("aroundMm")} is too small for this density along the lines: the number of columns must be a multiple of sixteen, and they would be ${closedMm.toFixed(3)} mm apart instead of ${askedMm.toFixed(3)}. Choose more lines per inch.`,
    "picture-too-wide": ({ widthMm, roundMm }: Figures<"widthMm" | "roundMm">, reader) =>
      `The picture is ${hundredths(widthMm)} mm wide, but where it lies the piece measures only ${hundredths(roundMm)} mm all the way round (${reader.option("aroundMm")}). Give a smaller ${reader.option("widthMm")}. To engrave all the way round, leave out ${reader.option("widthMm")} and ${reader.option("place")}.`,
    "no-cone-wall": ({ topMm, bottomMm, slantMm }: Figures<"topMm" | "bottomMm" | "slantMm">, reader) =>
      `${reader.option("aroundMm")} ${digits(topMm)}..${digits(bottomMm)} with a wall of ${digits(slantMm)} mm is no cone. The wall is measured along the slope, so it must exceed the ${digits(Math.abs(topMm - bottomMm) / 2)} mm by which the radius changes. Check ${reader.option("wallMm")} and the diameters.`,
    "no-cone": (
      { topMm, bottomMm, slantMm, placed }: Figures<"topMm" | "bottomMm" | "slantMm"> & { placed?: boolean },
      reader,
    ) =>
      `${reader.option("aroundMm")} ${digits(topMm)}..${digits(bottomMm)} with a height of ${digits(slantMm)} mm is no cone. The height is measured along the slope, so it must exceed the ${digits(Math.abs(topMm - bottomMm) / 2)} mm by which the radius changes. Give a larger height, or check the diameters.${placed ? ` If they are those of rim and foot, give ${reader.option("wallMm")}.` : ""}`,
  }),
  ...refusedAs("OPTION_CONFLICT", "place", {
    "cone-without-wall": ({ topMm, bottomMm }: Figures<"topMm" | "bottomMm">, reader) =>
      `${reader.option("place")} measures from the rim of a cone, but ${reader.option("aroundMm")} ${digits(topMm)}..${digits(bottomMm)} does not say how far apart its two diameters are. Give ${reader.option("wallMm")}: the length from rim to foot along the slope, with the diameters of rim and foot.`,
    "off-the-wall": ({ fromMm, toMm, wallMm }: Figures<"fromMm" | "toMm" | "wallMm">, reader) =>
      `The picture would reach from ${hundredths(fromMm)} to ${hundredths(toMm)} mm below the rim, but the wall of the piece ends at ${hundredths(wallMm)} mm${fromMm < 0 ? " and begins at 0 mm" : ""} (${reader.option("wallMm")}). Choose another ${reader.option("place")}, or a smaller picture.`,
  }),
  ...refusedAs("OPTION_CONFLICT", "text", {
    "text-on-round-piece": (_: object, reader) =>
      `${reader.option("text")} is not possible on a round piece (${reader.option("aroundMm")}). Put the text into the picture itself.`,
  }),
  ...refusedAs("OPTION_INVALID", "text", {
    "text-without-glyph": ({ missing }: Texts<"missing">, reader) =>
      `${reader.option("text")} has characters that the font does not have: "${visible(missing)}". It has Latin, Greek and Cyrillic letters, digits and common signs. Leave the others out.`,
  }),
  ...refusedAs("OPTION_TOO_LARGE", "text", {
    "text-too-wide": (
      { word, neededMm, widthMm, heightMm }: Texts<"word"> & Figures<"neededMm" | "widthMm" | "heightMm">,
      reader,
    ) =>
      `"${visible(word)}" in ${reader.option("text")} would be ${hundredths(neededMm)} mm wide with letters of ${hundredths(heightMm)} mm, but the piece is ${hundredths(widthMm)} mm wide. Give a smaller ${reader.option("textHeightMm")}, or break the word.`,
  }),
  ...refusedAs("OPTION_CONFLICT", "wallMm", {
    "wall-all-round": (_: object, reader) =>
      `${reader.option("wallMm")} is for a picture on a part of the piece: give ${reader.option("widthMm")} too. A picture that goes all the way round needs no wall: there ${reader.option("aroundMm")} takes the diameters at its own top and bottom.`,
  }),
  ...refusedAs("OPTION_CONFLICT", undefined, {
    "round-only": ({ option }: Texts<"option">, reader) =>
      `${reader.option(option)} is for a round piece: give its diameter too, ${reader.option("aroundMm")}.`,
  }),
  ...refusedAs("OPTION_CONFLICT", "material", {
    "fill-unmarked": ({ material }: Texts<"material">, reader) =>
      `On ${material} a solid fill leaves no mark at this density, because its dose stays below the doses that change the surface. Where the doses of neighbouring lines do not add up, fewer lines per inch mark more: lower ${reader.option("linesPerInch")}.`,
  }),
  ...refusedAs("OPTION_CONFLICT", "oval", {
    "oval-on-round": (_: object, reader) =>
      `${reader.option("oval")} is for a picture with sides: one that goes all the way round has none. For an oval picture on a part of it give ${reader.option("widthMm")} too.`,
  }),
  ...refusedAs("OPTION_CONFLICT", "focus", {
    "focus-on-flat-cone": (_: object, reader) =>
      `${reader.option("focus")} has no use on a picture that goes all the way round a cone and is laid out flat: there the middle of the photo lies on the middle of the sheet. Use ${reader.option("crop")} instead.`,
  }),
  ...refusedAs("OPTION_OUTSIDE_PHOTO", "crop", {
    "crop-outside": ({ horizontal, vertical, photo: [columns, rows] }: CropOutside, reader) => {
      const asked = [
        horizontal && `from ${pixels(horizontal[0])} to ${pixels(horizontal[1])} of its width`,
        vertical && `from ${pixels(vertical[0])} to ${pixels(vertical[1])} of its height`,
      ];
      return `${reader.option("crop")} reaches outside the photo, which has ${columns} × ${rows} pixels upright: it asks for pixels ${asked.filter(Boolean).join(" and ")}. Keep left and top at 0 or more, left + width within ${columns} pixels (100 %), and top + height within ${rows} pixels (100 %).`;
    },
  }),
  ...refusedAs("OPTION_OUTSIDE_PHOTO", "focus", {
    "focus-outside": ({ point, kept, photo }: FocusOutside, reader) => {
      const place = kept
        ? `the cropped part, which is ${kept.size.join(" × ")} pixels from ${kept.from.join(", ")} of a photo of ${photo.join(" × ")}`
        : `the photo, which has ${photo.join(" × ")} pixels upright`;
      return `${reader.option("focus")} ${point.map(pixels).join(", ")} lies outside ${place}. It counts from the upper left corner of the whole photo. Choose a point inside.`;
    },
  }),
  ...refusedAs("OPTION_CONFLICT", undefined, {
    "drawing-in-pixels": ({ option }: Texts<"option">, reader) =>
      `${reader.option(option)} in pixels has no meaning for a drawing (SVG), which is rendered at the size that the piece needs. Give it in percent.`,
  }),
  ...refusedAs("OPTION_TOO_LARGE", undefined, {
    "outline-too-wide": ({ option, sidesMm, takenMm, roomMm }: OutlineTooWide, reader) =>
      `${reader.option(option)} leaves nothing of the picture, which is ${sidesMm.map(digits).join(" × ")} mm: border, its gap and vignette take ${digits(takenMm)} mm from every side, and the middle is ${digits(roomMm)} mm away. Choose smaller ones, or a larger piece.`,
  }),
  ...refusedAs("OPTION_TOO_LARGE", "linesPerInch", {
    "too-many-pixels": ({ columns, rows, maxPixels }: Figures<"columns" | "rows" | "maxPixels">) =>
      `This size at this density makes ${columns} × ${rows} pixels, which exceeds the ${maxPixels / 1e6} million that can be handled. Choose a lower density or a smaller piece.`,
  }),
};
