import { PNG } from "pngjs";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { encodeBitmap } from "../../../src/6-report/files/bitmap-file.js";
import { createPngWriter } from "../../../src/6-report/files/bitmap-png.js";
import { packBitmap } from "../../../src/core/packed-bits.js";
import { type Bitmap, plane } from "../../../src/core/plane.js";
import { pitchMmFromLinesPerInch } from "../../../src/core/units.js";
import { hasTool } from "../../support/tool.js";
import { answer, greyValues, randomBitmap, unequalPitch } from "./sample-bitmap.js";

/** Red, green, blue and alpha as pngjs reads them, of grey values. */
function rgba(grey: readonly number[]): Buffer {
  const bytes = Buffer.alloc(4 * grey.length, 255);
  grey.forEach((value, i) => {
    bytes.fill(value, 4 * i, 4 * i + 3);
  });
  return bytes;
}

const encodeBitmapPng = (bitmap: Bitmap) => encodeBitmap(bitmap, "png");

describe("encodeBitmapPng", () => {
  it.each(Array.from({ length: 17 }, (_, i) => i + 1))("pngjs reads back %i columns", async (columns) => {
    const bitmap = randomBitmap(5, columns);
    const read = PNG.sync.read(Buffer.from(await encodeBitmapPng(bitmap)));
    expect([read.width, read.height]).toEqual([columns, 5]);
    expect(read.data.equals(rgba(greyValues(bitmap)))).toBe(true);
  });

  // 1100 and 4200 rows of 126 + 1 bytes: less and more than a segment of 524288 bytes.
  it.each([1100, 4200])("pngjs and sharp read back a large bitmap of %i rows", async (rows) => {
    const bitmap = randomBitmap(rows, 1003);
    const png = Buffer.from(await encodeBitmapPng(bitmap));
    expect(PNG.sync.read(png).data.equals(rgba(greyValues(bitmap)))).toBe(true);
    const grey = await sharp(png).toColourspace("b-w").raw().toBuffer();
    expect(grey.equals(Buffer.from(greyValues(bitmap)))).toBe(true);
  });

  // 2048 rows of 255 + 1 bytes fill one segment to the last byte.
  it("reads back a bitmap that ends with a segment", async () => {
    const bitmap = randomBitmap(2048, 2040);
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

describe("createPngWriter", () => {
  const shape = { columns: 1003, rows: 4200, levels: 2, pitch: unequalPitch };
  const bitmap = randomBitmap(shape.rows, shape.columns);
  const packed = packBitmap(bitmap.pixels.data, shape.columns, shape.rows);

  it("gives the same file however many rows come at a time, in one array used again", async () => {
    const expected = Buffer.from(await encodeBitmapPng(bitmap));
    for (const atATime of [1, 7, 4200]) {
      const pieces: Buffer[] = [];
      const writer = await createPngWriter(shape, "noise", (bytes) => {
        pieces.push(Buffer.from(bytes));
      });
      const rows = new Uint8Array(atATime * packed.stride);
      for (let y = 0; y < shape.rows; y += atATime) {
        const count = Math.min(atATime, shape.rows - y);
        rows.set(packed.bytes.subarray(y * packed.stride, (y + count) * packed.stride));
        await writer.write(rows, count);
      }
      await writer.end();
      expect(Buffer.concat(pieces).equals(expected)).toBe(true);
    }
  });

  it("fails where rows are missing or too many", async () => {
    const writer = await createPngWriter(shape, "noise", () => {});
    await writer.write(packed.bytes, shape.rows - 1);
    await expect(writer.end()).rejects.toMatchObject({ code: "INTERNAL" });
    await expect(writer.write(packed.bytes, 2)).rejects.toMatchObject({ code: "INTERNAL" });
  });

  it("passes on a failure of what takes the bytes", async () => {
    const write = async () => {
      let room = 3;
      const writer = await createPngWriter(shape, "repeating", () => {
        if (room-- === 0) throw new Error("no more room");
      });
      await writer.write(packed.bytes, shape.rows);
      await writer.end();
    };
    await expect(write()).rejects.toThrow("no more room");
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
