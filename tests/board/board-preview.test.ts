import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { blankPicture, drawText, type RgbPicture } from "../../src/6-report/pictures/canvas.js";
import { pieceOnPreview, previewSize } from "../../src/6-report/pictures/preview.js";
import type { BoardPiece, Place } from "../../src/board/board-piece.js";
import { boardPreview, legend } from "../../src/board/board-preview.js";
import { layPieces } from "../../src/board/lay-boards.js";
import { piece } from "./pieces.js";

const placesOf = (...names: readonly string[]): Place[] =>
  names.map((name, copy) => ({ piece: piece(name, 200, 200), copy, left: 0, top: 0 }));

/** A preview file of one tone, large enough for the piece on it. */
async function evenPreview({ columns, rows, setting: { pitch } }: BoardPiece): Promise<Uint8Array> {
  const at = pieceOnPreview(previewSize(columns * pitch.alongMm, rows * pitch.acrossMm, columns, rows));
  const size = { width: at.left + at.columns + 20, height: at.top + at.rows + 300 };
  return sharp({ create: { ...size, channels: 3, background: "#b08050" } })
    .png()
    .toBuffer();
}

/** What is dark in a part of a picture. */
const inkIn = ({ rgb, columns }: RgbPicture, left: number, top: number): string =>
  Array.from({ length: 18 * 40 }, (_, i) => {
    const at = 3 * ((top + Math.floor(i / 40)) * columns + left + (i % 40));
    return rgb[at] < 0x80 ? "#" : ".";
  }).join("");

describe("the preview of a board", () => {
  it("names the pieces below it by their numbers, runs in short", () => {
    expect(legend(placesOf("boat.jpg", "boat.jpg", "net.jpg", "boat.jpg", "Größe.png"))).toEqual([
      "1-2, 4  boat.jpg",
      "3  net.jpg",
      "5  grosse.png",
    ]);
  });

  it("has on each piece the number that the list names it by", async () => {
    const pieces = [piece("a", 200, 200), piece("b", 200, 190)];
    const board = { widthMm: 60, heightMm: 25, gapMm: 3, marginMm: 2 };
    const [layout] = layPieces(pieces, { board }).boards;
    expect(layout.places.map(({ piece: { name } }) => name)).toEqual(["a", "b"]);
    const picture = await boardPreview(layout, evenPreview);
    const { pitch } = layout.setting;
    const pxPerMm = Math.min(
      8,
      1600 / Math.max(layout.columns * pitch.alongMm, layout.rows * pitch.acrossMm),
    );
    for (const [
      i,
      {
        left,
        top,
        piece: { name },
      },
    ] of layout.places.entries()) {
      const corner = [left * pitch.alongMm, top * pitch.acrossMm].map((mm) => 24 + Math.floor(mm * pxPerMm));
      const alone = blankPicture(100, 60, 0xf6);
      drawText(alone, `${i + 1} ${name}`, 3, 13, 0x22);
      expect(inkIn(picture, corner[0] + 2, corner[1] + 2)).toBe(inkIn(alone, 2, 2).slice(0, 720));
    }
  });
});
