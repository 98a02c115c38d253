import type { Figures, Texts } from "../told.js";
import { MM_PER_INCH } from "../units.js";
import { mmWords } from "../words.js";
import { refusedAs } from "./entry.js";

/** Test cards that cannot be made. */
export const cardRefusals = {
  ...refusedAs("OPTION_CONFLICT", "sizeMm", {
    "card-too-small": (_: object, reader) =>
      `${reader.option("sizeMm")} leaves too little room for the code and the patches of a test card at this density. Make the card larger, or the lines finer: 40 × 30 mm is enough at 339 lines per inch or more.`,
    "check-card-too-small": (_: object, reader) =>
      `${reader.option("sizeMm")} leaves too little room for the code, the photo and the tones of a check card at this density. Make the card larger: 70 × 45 mm is enough at 150 lines per inch or more.`,
  }),
  ...refusedAs("OPTION_CONFLICT", undefined, {
    "card-too-coarse": (
      { option, patchMm, pitchMm, largestMm }: Texts<"option"> & Figures<"patchMm" | "pitchMm" | "largestMm">,
      reader,
    ) =>
      `${reader.option(option)} is too coarse for a test card: a patch of ${patchMm} mm has only ${Math.floor(patchMm / pitchMm)} pixels there, and its patterns need ${Math.round(patchMm / largestMm)}. Give ${Math.ceil(MM_PER_INCH / largestMm)} lines per inch or more.`,
    "card-lines-apart": (
      { option, pitchMm, spotMm }: Texts<"option"> & Figures<"pitchMm" | "spotMm">,
      reader,
    ) =>
      `${reader.option(option)} is too coarse for a test card: its pixels are ${mmWords(pitchMm)} apart and the spot is ${mmWords(spotMm)}, so a solid patch would have bare gaps. Give ${Math.ceil(MM_PER_INCH / spotMm)} lines per inch or more; four lines to a spot are best.`,
  }),
};
