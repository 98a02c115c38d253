import type { Figures, Texts } from "../told.js";
import { densityWords } from "../words.js";
import { refusedAs } from "./entry.js";

const tenths = (mm: number): string => String(Number(mm.toFixed(1)));

/** Pieces that cannot lie on one board. */
export const boardRefusals = {
  ...refusedAs("OPTION_CONFLICT", undefined, {
    "board-settings-differ": ({
      one,
      other,
      lines,
      otherLines,
    }: Texts<"one" | "other"> & Figures<"lines" | "otherLines">) =>
      `"${one}" and "${other}" cannot lie on one board: one bitmap is burnt with one density, material and power, and they ${lines === otherLines ? "differ in one of these" : `have ${densityWords(lines)} and ${densityWords(otherLines)} lines per inch`}. Prepare them with the same settings, or lay them on two boards.`,
    "board-and-jig": (_: object, reader) =>
      `A jig has its own size, so ${reader.option("jig")} and ${reader.option("boardSizeMm")} exclude each other. Leave one of them out.`,
    "copies-without-board": (_: object, reader) =>
      `${reader.option("copies")} needs something to lay the copies on: give ${reader.option("boardSizeMm")} or ${reader.option("jig")} too.`,
    "board-of-round-piece": ({ name }: Texts<"name">, reader) =>
      `"${name}" is for a round piece (${reader.option("aroundMm")}), which turns while it is engraved. It cannot lie on a flat board.`,
  }),
  ...refusedAs("OPTION_TOO_LARGE", undefined, {
    "board-too-many-pixels": ({
      name,
      columns,
      rows,
      maxPixels,
    }: Texts<"name"> & Figures<"columns" | "rows" | "maxPixels">) =>
      `"${name}" cannot be laid: a board of this size at its density has ${columns} × ${rows} pixels, which exceeds the ${maxPixels / 1e6} million that can be handled. Choose a smaller board, or a lower density.`,
    "board-too-small": ({
      name,
      widthMm,
      heightMm,
      room,
      written = false,
    }: Texts<"name"> &
      Figures<"widthMm" | "heightMm"> & {
        readonly room: Figures<"widthMm" | "heightMm">;
        readonly written?: boolean;
      }) =>
      `"${name}" measures ${tenths(widthMm)} × ${tenths(heightMm)} mm and does not fit: there is room for ${tenths(room.widthMm)} × ${tenths(room.heightMm)} mm. Choose a larger board or pocket, a smaller margin, or a smaller piece. Pieces are not turned.${written ? " The files of the piece itself are written, and no board." : ""}`,
  }),
};
