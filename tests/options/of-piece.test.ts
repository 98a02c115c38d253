import { expect, it } from "vitest";
import { optionsOfPiece } from "../../src/options/of-piece.js";
import { refusalOf } from "../support/refusal.js";

it("takes the options of a piece from those of a command, and leaves its own", () => {
  const piece = { widthMm: 80, text: "Ada", linesPerInch: 254 };
  const own = { copies: 3, boardSizeMm: { widthMm: 600, heightMm: 400 }, workers: 2, unlisted: "wait" };
  expect(optionsOfPiece({ ...own, ...piece })).toEqual(piece);
});

it("refuses a value that a piece does not take", () => {
  expect(refusalOf(() => optionsOfPiece({ copies: 3, widthMm: -1 })).code).toBe("OPTION_INVALID");
});
