import * as z from "zod";
import { fieldsOf, group } from "../options/group.js";
import { cardSize, length, number, word } from "../options/kinds.js";
import { prepareTable } from "../options/tables.js";
import { between, strict, whole } from "../options/takes.js";
import type { FlatBoard } from "./shelves.js";

const SIDE_WORDS = "1 to 3000 mm for the width and for the height, such as 600x400mm";
export const MAX_COPIES = 1000;
const DEFAULT_GAP_MM = 3;
const DEFAULT_MARGIN_MM = 5;

/** Where finished pieces are laid, to be burnt in one run. */
export const boardTable = group("Board", {
  copies: number(
    "--copies <n>",
    whole(1, MAX_COPIES).default(1),
    "how often each picture lies on the boards, or in the jigs",
  ),
  boardSizeMm: cardSize(
    "--board <size>",
    strict(
      ["widthMm", "heightMm"],
      z.number(SIDE_WORDS).min(1, SIDE_WORDS).max(3000, SIDE_WORDS),
      SIDE_WORDS,
    ).optional(),
    "lay pieces side by side on boards of this size, one bitmap for each board: 600x400mm",
    { otherwise: "each piece has its own bitmap only" },
  ),
  boardGapMm: length(
    "--board-gap <length>",
    between(0, 500, "mm").default(DEFAULT_GAP_MM),
    "on a board: bare between two pieces",
  ),
  boardMarginMm: length(
    "--board-margin <length>",
    between(0, 500, "mm").default(DEFAULT_MARGIN_MM),
    "on a board: bare along its edges",
  ),
  jig: word(
    "--jig <file>",
    z.string("a file's name").optional(),
    "lay pieces into the pockets of a jig, described in a JSON file: rows, columns, pitch and offset, or a list of pockets",
  ),
});

/** What the command line takes for one picture. */
export const prepareCommandTable = { ...prepareTable, ...boardTable };
export const prepareCommandSchema = z.strictObject(fieldsOf(prepareCommandTable));

export type BoardOptions = z.input<z.ZodObject<ReturnType<typeof fieldsOf<typeof boardTable>>>>;

/** The board that was asked for; undefined if none was. */
export function flatBoardOf({ boardSizeMm, boardGapMm, boardMarginMm }: BoardOptions): FlatBoard | undefined {
  return (
    boardSizeMm && {
      ...boardSizeMm,
      gapMm: boardGapMm ?? DEFAULT_GAP_MM,
      marginMm: boardMarginMm ?? DEFAULT_MARGIN_MM,
    }
  );
}
