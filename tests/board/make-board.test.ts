import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { type BitmapFormat, encodePackedBitmap } from "../../src/6-report/files/bitmap-file.js";
import { encodePreviewPng } from "../../src/6-report/files/preview-png.js";
import { composePreview, pieceOnPreview, previewSize } from "../../src/6-report/pictures/preview.js";
import { boardJson } from "../../src/board/board-json.js";
import type { BoardLayout, BoardPiece, BurnSetting, PieceFile } from "../../src/board/board-piece.js";
import { layPieces } from "../../src/board/lay-boards.js";
import { makeBoard } from "../../src/board/make-board.js";
import { readBitmap } from "../../src/board/read-bitmap.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import { plane } from "../../src/core/plane.js";
import { seededRandom } from "../../src/core/random.js";
import { piece, setting } from "./pieces.js";

/** Power levels of a piece, any of them at any place. */
function randomPixels(columns: number, rows: number, levels: number, seed: number): Uint8Array {
  const random = seededRandom(seed);
  return Uint8Array.from({ length: columns * rows }, () => Math.floor(random() * levels));
}

const encoded = (pixels: Uint8Array, { columns, rows, setting }: BoardPiece) =>
  encodePackedBitmap(packBitmap(pixels, columns, rows, setting.levels), setting.pitch, setting.format);

/** A preview as large as `prepare` draws it, the piece in one colour. */
async function previewIn(colour: string, { columns, rows, setting: { pitch } }: BoardPiece) {
  const own = pieceOnPreview(previewSize(columns * pitch.alongMm, rows * pitch.acrossMm, columns, rows));
  const ground = {
    width: own.left + own.columns + 24,
    height: own.top + own.rows + 300,
    channels: 3 as const,
  };
  const inside = { width: own.columns, height: own.rows, channels: 3 as const, background: colour };
  return sharp({ create: { ...ground, background: "#f6f6f6" } })
    .composite([{ input: await sharp({ create: inside }).png().toBuffer(), left: own.left, top: own.top }])
    .png()
    .toBuffer();
}

async function made(layout: BoardLayout, files: ReadonlyMap<string, Uint8Array>) {
  const burn: Uint8Array[] = [];
  const preview: Uint8Array[] = [];
  const time = await makeBoard(layout, {
    read: async ({ path }: PieceFile) => files.get(path) ?? Buffer.alloc(0),
    burn: (bytes) => void burn.push(bytes),
    preview: (bytes) => void preview.push(bytes),
  });
  return { time, burn: Buffer.concat(burn), preview: Buffer.concat(preview) };
}

/** Greys of a file, by sharp. */
async function greysOf(file: Uint8Array) {
  const { data, info } = await sharp(file).toColourspace("b-w").raw().toBuffer({ resolveWithObject: true });
  return { data, columns: info.width, rows: info.height };
}

const board = { widthMm: 12.03, heightMm: 9, gapMm: 0.35, marginMm: 0.5 };
const withFormat = (format: BitmapFormat, levels: number): BurnSetting => ({ ...setting, format, levels });

describe.each<[BitmapFormat, number]>([
  ["png", 2],
  ["png", 5],
  ["png", 256],
  ["tiff", 2],
  ["tiff", 4],
])("a board as %s with %d levels", (format, levels) => {
  it("holds exactly the pixels of each piece in its place, and nothing else", async () => {
    const own = withFormat(format, levels);
    const pieces = [
      piece("one", 37, 30, { copies: 2, setting: own }),
      piece("two", 8, 11, { copies: 3, setting: own }),
      piece("three", 1, 1, { setting: own }),
    ];
    const files = new Map<string, Uint8Array>();
    for (const [i, each] of pieces.entries()) {
      files.set(each.bitmap.path, await encoded(randomPixels(each.columns, each.rows, levels, i), each));
    }
    const { boards, leftOut } = layPieces(pieces, { board });
    expect(leftOut).toEqual([]);
    const { data, columns, rows } = await greysOf((await made(boards[0], files)).burn);
    expect([columns, rows]).toEqual([120, 90]);
    const rest = Uint8Array.from(data);
    for (const { piece, left, top } of boards[0].places) {
      const alone = await greysOf(files.get(piece.bitmap.path) ?? Buffer.alloc(0));
      for (let y = 0; y < piece.rows; y++) {
        const at = (top + y) * columns + left;
        const inside = data.subarray(at, at + piece.columns);
        expect(Buffer.compare(inside, alone.data.subarray(y * piece.columns, (y + 1) * piece.columns))).toBe(
          0,
        );
        rest.fill(255, at, at + piece.columns);
      }
    }
    expect(rest.every((grey) => grey === 255)).toBe(true);
    expect(boards[0].places.length).toBe(6);
  });
});

it.each([2, 7])("a board as BMP with %d levels is read back as the same one as PNG", async (levels) => {
  const layouts = (["png", "bmp"] as const).map(async (format) => {
    const one = piece("one", 37, 30, { copies: 2, setting: withFormat(format, levels) });
    const file = await encoded(randomPixels(37, 30, levels, 3), one);
    const [layout] = layPieces([one], { board }).boards;
    const { burn } = await made(layout, new Map([[one.bitmap.path, file]]));
    return readBitmap(burn, format, { columns: 120, rows: 90, levels });
  });
  const [asPng, asBmp] = await Promise.all(layouts);
  expect(Buffer.compare(asPng.bytes, asBmp.bytes)).toBe(0);
});

it("a file of another size is refused", async () => {
  const one = piece("one", 16, 4);
  const file = await encoded(randomPixels(16, 4, 2, 1), one);
  await expect(readBitmap(file, "png", { columns: 15, rows: 4, levels: 2 })).rejects.toThrow(/4 of 15/);
});

it("takes the time of its lines, and says that of the pieces one by one", async () => {
  // Two solid pieces of 100 × 10 pixels side by side, 5 mm apart. One line of s mm takes s/v + 2v/a at 300 mm/s and 5000 mm/s²
  // (constant acceleration, model section 10): the board's lines are 10 + 5 + 10 mm long, the pieces' 10 mm.
  const solid = piece("solid", 100, 10, { copies: 2 });
  const file = await encoded(new Uint8Array(1000).fill(1), solid);
  const wide = { widthMm: 40, heightMm: 5, gapMm: 5, marginMm: 0 };
  const [layout] = layPieces([solid], { board: wide }).boards;
  const { time } = await made(layout, new Map([[solid.bitmap.path, file]]));
  expect(time.whole.seconds).toBeCloseTo(10 * (25 / 300 + (2 * 300) / 5000), 9);
  expect(time.pieceByPieceS).toBeCloseTo(2 * 10 * (10 / 300 + (2 * 300) / 5000), 9);
  expect(time.whole).toMatchObject({ lines: 10, blankLines: 40 });

  const told = JSON.parse(boardJson("board-01", layout, time, (path) => `../${path}`));
  expect(told.runTime).toMatchObject({
    seconds: time.whole.seconds,
    pieceByPieceSeconds: time.pieceByPieceS,
  });
  expect(told.pieces).toMatchObject([
    {
      number: 1,
      name: "solid",
      copy: 1,
      leftMm: 0,
      topMm: 0,
      widthMm: 10,
      heightMm: 1,
      left: 0,
      columns: 100,
    },
    { number: 2, copy: 2, leftMm: 15, left: 150, bitmap: "../solid.burn.png", sha256: "solid" },
  ]);
});

describe("the preview of a board", () => {
  const colours = { red: "#c02010", blue: "#1020c0" } as const;

  it("shows each piece where it lies, the bare board between them", async () => {
    const pieces = (["red", "blue"] as const).map((name, i) =>
      piece(name, 100, 60 + 20 * i, { preview: { path: `${name}.preview.png`, sha256: "" } }),
    );
    const files = new Map<string, Uint8Array>();
    for (const each of pieces) {
      files.set(each.bitmap.path, await encoded(new Uint8Array(each.columns * each.rows), each));
      files.set(each.preview?.path ?? "", await previewIn(colours[each.name as "red" | "blue"], each));
    }
    const [layout] = layPieces(pieces, { board: { ...board, widthMm: 30 } }).boards;
    const { data, info } = await sharp((await made(layout, files)).preview)
      .raw()
      .toBuffer({ resolveWithObject: true });
    // 8 pixels per mm and a margin of 24.
    const at = (xMm: number, yMm: number) => {
      const from = 3 * ((24 + Math.round(8 * yMm)) * info.width + 24 + Math.round(8 * xMm));
      return `#${data.subarray(from, from + 3).toString("hex")}`;
    };
    // Below the labels. Blue is the taller one and comes first: from 0.5 mm, 10 mm wide; red from 0.5 + 10 + 0.4.
    expect(at(5, 4)).toBe(colours.blue);
    expect(at(15, 4)).toBe(colours.red);
    expect(at(25, 5)).toBe(setting.bareColor);
    expect(at(15, 7.5)).toBe(setting.bareColor);
  });

  it("shows a piece without the dashed frame that its own preview has", async () => {
    const grey = piece("grey", 400, 300, { preview: { path: "grey.preview.png", sha256: "" } });
    const size = previewSize(40, 30, 400, 300);
    const flat = composePreview({
      piece: plane("luminance-factor", new Float32Array(size.columns * size.rows), size.rows, size.columns),
      ...{ burnColumns: 400, burnRows: 300, widthMm: 40, heightMm: 30, levels: 2 },
      crop: ({ columns, rows }) => ({
        pixels: new Uint8Array(columns * rows),
        predicted: new Float32Array(columns * rows),
      }),
      paint: (_luminance, rgb, at) => rgb.fill(0x80, at, at + 3),
    });
    const files = new Map([
      [grey.bitmap.path, await encoded(new Uint8Array(400 * 300), grey)],
      ["grey.preview.png", await encodePreviewPng(flat)],
    ]);
    const alone = { widthMm: 40, heightMm: 30, gapMm: 0, marginMm: 0 };
    const [layout] = layPieces([grey], { board: alone }).boards;
    const { data, info } = await sharp((await made(layout, files)).preview)
      // Below the label: 8 pixels per mm and a margin of 24.
      .extract({ left: 24, top: 24 + 18, width: 320, height: 240 - 18 })
      .raw()
      .toBuffer({ resolveWithObject: true });
    expect(info.width).toBe(320);
    expect([...new Set(data)]).toEqual([0x80]);
  });

  it("is not drawn where a piece has none", async () => {
    const one = piece("one", 16, 4);
    const [layout] = layPieces([one], { board }).boards;
    const { preview } = await made(
      layout,
      new Map([[one.bitmap.path, await encoded(new Uint8Array(64), one)]]),
    );
    expect(preview.length).toBe(0);
  });
});
