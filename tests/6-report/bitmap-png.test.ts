import { PNG } from "pngjs";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { encodeBitmapPng, encodePngRows } from "../../src/6-report/bitmap-png.js";
import { plane } from "../../src/core/plane.js";
import { pitchMmFromLinesPerInch } from "../../src/core/units.js";
import { hasTool } from "../support/tool.js";
import { answer, greyValues, randomBitmap, unequalPitch } from "./sample-bitmap.js";

/** Red, green, blue and alpha as pngjs reads them, of grey values. */
const rgba = (grey: number[]): Buffer => Buffer.from(grey.flatMap((value) => [value, value, value, 255]));

async function collect(pieces: AsyncIterable<Uint8Array>): Promise<Buffer> {
  const all: Uint8Array[] = [];
  for await (const piece of pieces) all.push(piece);
  return Buffer.concat(all);
}

describe("encodeBitmapPng", () => {
  it.each(Array.from({ length: 17 }, (_, i) => i + 1))("pngjs reads back %i columns", async (columns) => {
    const bitmap = randomBitmap(5, columns);
    const read = PNG.sync.read(Buffer.from(await encodeBitmapPng(bitmap)));
    expect([read.width, read.height]).toEqual([columns, 5]);
    expect(read.data.equals(rgba(greyValues(bitmap)))).toBe(true);
  });

  // 1100 rows of 126 + 1 bytes: more than one strip of 131072 bytes, the last one part full.
  it("pngjs and sharp read back a large bitmap", async () => {
    const bitmap = randomBitmap(1100, 1003);
    const png = Buffer.from(await encodeBitmapPng(bitmap));
    expect(PNG.sync.read(png).data.equals(rgba(greyValues(bitmap)))).toBe(true);
    const grey = await sharp(png).toColourspace("b-w").raw().toBuffer();
    expect(grey.equals(Buffer.from(greyValues(bitmap)))).toBe(true);
  });

  // 512 rows of 255 + 1 bytes fill one strip to the last byte.
  it("reads back a bitmap that ends with a strip", async () => {
    const bitmap = randomBitmap(512, 2040);
    const read = PNG.sync.read(Buffer.from(await encodeBitmapPng(bitmap)));
    expect(read.data.equals(rgba(greyValues(bitmap)))).toBe(true);
  });

  // W3C PNG, third edition: IHDR at byte 8 (11.2.1), and IEND is always these twelve bytes (CRC ae426082).
  it("is 1-bit greyscale without interlacing, and ends with IEND", async () => {
    const png = Buffer.from(await encodeBitmapPng(randomBitmap(3, 300)));
    expect(png.subarray(0, 29).toString("hex")).toBe(
      "89504e470d0a1a0a" + "0000000d49484452" + "0000012c" + "00000003" + "0100000000",
    );
    expect(png.subarray(-12).toString("hex")).toBe("0000000049454e44ae426082");
  });

  // Pixels per metre = dpi / 0.0254, rounded: W3C PNG / ISO/IEC 15948 (png.phys.* of tests/data/check-values.json).
  it.each([
    [72, 2835],
    [96, 3780],
    [127, 5000],
    [254, 10000],
    [300, 11811],
    [508, 20000],
    [600, 23622],
    [1000, 39370],
  ])("says %i per inch as %i per metre", async (linesPerInch, pixelsPerMetre) => {
    const pitch = { alongMm: pitchMmFromLinesPerInch(linesPerInch), acrossMm: 0.1 };
    const png = Buffer.from(await encodeBitmapPng(randomBitmap(2, 2, pitch)));
    const at = png.indexOf("pHYs") + 4;
    expect([png.readUInt32BE(at), png.readUInt32BE(at + 4), png[at + 8]]).toEqual([pixelsPerMetre, 10000, 1]);
    expect((await sharp(png).metadata()).density).toBe(Math.round(pixelsPerMetre * 0.0254));
  });

  it("reads a view with other strides, leaves it alone, and gives the same bytes twice", async () => {
    const bitmap = randomBitmap(19, 23);
    const before = bitmap.pixels.data.slice();
    const crop = { ...bitmap, pixels: bitmap.pixels.lo(3, 4).hi(11, 9) };
    const png = Buffer.from(await encodeBitmapPng(crop));
    const grey = greyValues(bitmap);
    const wanted = Array.from({ length: 11 }, (_, y) =>
      grey.slice((y + 3) * 23 + 4, (y + 3) * 23 + 13),
    ).flat();
    expect(PNG.sync.read(png).data.equals(rgba(wanted))).toBe(true);
    expect(bitmap.pixels.data).toEqual(before);
    expect(png.equals(await encodeBitmapPng(crop))).toBe(true);
  });

  it("refuses a bitmap without a pitch or without pixels", async () => {
    await expect(encodeBitmapPng(plane("bitmap", new Uint8Array(4), 2, 2))).rejects.toMatchObject({
      code: "INTERNAL",
    });
    await expect(encodeBitmapPng(randomBitmap(0, 5))).rejects.toMatchObject({ code: "INTERNAL" });
  });
});

describe("encodePngRows", () => {
  const shape = { columns: 1003, rows: 300, pitch: unequalPitch };

  it("gives the same file from rows that come later in one reused array", async () => {
    const bitmap = randomBitmap(shape.rows, shape.columns);
    async function* rows(): AsyncGenerator<Uint8Array> {
      const row = new Uint8Array(shape.columns);
      for (let y = 0; y < shape.rows; y++) {
        await null;
        row.set(bitmap.pixels.data.subarray(y * shape.columns, (y + 1) * shape.columns));
        yield row;
      }
    }
    const png = await collect(encodePngRows(rows(), shape));
    expect(png.equals(await encodeBitmapPng(bitmap))).toBe(true);
  });

  it("fails where rows are missing, too many or of another width", async () => {
    const rows = (count: number, columns: number): Uint8Array[] => Array(count).fill(new Uint8Array(columns));
    for (const wrong of [rows(299, 1003), rows(301, 1003), rows(300, 1002), []]) {
      await expect(collect(encodePngRows(wrong, shape))).rejects.toMatchObject({ code: "INTERNAL" });
    }
  });

  it("passes on a failure of the source", async () => {
    function* rows(): Generator<Uint8Array> {
      yield new Uint8Array(shape.columns);
      throw new Error("no more rows");
    }
    await expect(collect(encodePngRows(rows(), shape))).rejects.toThrow("no more rows");
  });
});

describe("PNG by outside programs", () => {
  it.skipIf(!hasTool("pngcheck", ["-h"]))("pngcheck: no errors, both densities", async () => {
    const report = answer("pngcheck", ["-v"], await encodeBitmapPng(randomBitmap(1100, 1003))).toString();
    expect(report).toContain("1003 x 1100 image, 1-bit grayscale, non-interlaced");
    expect(report).toContain("20000x10000 pixels/meter");
    expect(report).toContain("No errors detected");
  });

  it.skipIf(!hasTool("identify", ["-version"]))(
    "ImageMagick: size, both densities, black and white",
    async () => {
      const png = await encodeBitmapPng(randomBitmap(11, 13));
      const facts = answer("identify", ["-format", "%w %h %x %y %U %[type]", "png:-"], png).toString();
      expect(facts).toBe("13 11 200 100 PixelsPerCentimeter Bilevel");
    },
  );
});
