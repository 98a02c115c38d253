import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { encodeBitmap } from "../../../src/6-report/files/bitmap-file.js";
import { type Bitmap, plane } from "../../../src/core/plane.js";
import { pitchMmFromLinesPerInch } from "../../../src/core/units.js";
import { hasTool } from "../../support/tool.js";
import { answer, greyValues, randomBitmap, unequalPitch } from "./sample-bitmap.js";

const encodeBitmapBmp = async (bitmap: Bitmap) => Buffer.from(await encodeBitmap(bitmap, "bmp"));

describe("encodeBitmapBmp", () => {
  // By hand from the tables of BITMAPFILEHEADER and BITMAPINFOHEADER (Microsoft, Win32 API reference, wingdi.h).
  it("writes a file worked out by hand", async () => {
    const bits = Uint8Array.of(
      ...[1, 0, 0, 0, 0, 0, 0, 0, 0, 1], // the top row comes last: 0111 1111 10
      ...[0, 0, 0, 0, 1, 1, 1, 1, 0, 0], //                          1111 0000 11
    );
    const file = await encodeBitmapBmp(plane("bitmap", bits, 2, 10, unequalPitch));
    expect(file.toString("hex")).toBe(
      [
        "424d" + "46000000" + "00000000" + "3e000000", // BM, 70 bytes, pixels at 62
        "28000000" + "0a000000" + "02000000" + "0100" + "0100", // 40-byte header, 10 × 2, one plane, one bit
        "00000000" + "08000000", // no compression, 8 bytes of pixels
        "204e0000" + "10270000", // 20000 and 10000 pixels per metre
        "02000000" + "00000000", // two colours
        "00000000" + "ffffff00", // black, white
        "f0c00000" + "7f800000",
      ].join(""),
    );
  });

  // bmp.ppm.1000 of tests/data/check-values.json: 1000 dpi is 39370 in a signed 32-bit field at byte 38; y at byte 42.
  it("says 1000 per inch as 39370 per metre", async () => {
    const pitch = { alongMm: pitchMmFromLinesPerInch(1000), acrossMm: pitchMmFromLinesPerInch(254) };
    const file = await encodeBitmapBmp(randomBitmap(2, 2, pitch));
    expect([file.readInt32LE(38), file.readInt32LE(42)]).toEqual([39370, 10000]);
  });

  it("leaves the bitmap alone and gives the same bytes twice", async () => {
    const bitmap = randomBitmap(19, 23);
    const before = bitmap.pixels.data.slice();
    const file = await encodeBitmapBmp(bitmap);
    expect(file.equals(await encodeBitmapBmp(bitmap))).toBe(true);
    expect(bitmap.pixels.data).toEqual(before);
  });

  it("refuses a bitmap without a pitch", async () => {
    await expect(encodeBitmapBmp(plane("bitmap", new Uint8Array(4), 2, 2))).rejects.toMatchObject({
      code: "INTERNAL",
    });
  });
});

describe("BMP by outside programs", () => {
  it.skipIf(!hasTool("identify", ["-version"]))("ImageMagick: size, both densities, one bit", async () => {
    const facts = answer(
      "identify",
      ["-format", "%w %h %x %y %z %U %[type]", "bmp:-"],
      await encodeBitmapBmp(randomBitmap(11, 13)),
    );
    expect(facts.toString()).toBe("13 11 200 100 1 PixelsPerCentimeter Bilevel");
  });

  it.skipIf(!hasTool("convert", ["-version"]))(
    "ImageMagick reads back every width and a large bitmap",
    async () => {
      const sizes = [...Array.from({ length: 33 }, (_, i) => [3, i + 1]), [701, 1003]];
      const bitmaps = sizes.map(([rows, columns]) => randomBitmap(rows, columns));
      const folder = mkdtempSync(join(tmpdir(), "spotpitch-bmp-"));
      try {
        const files = bitmaps.map((_, k) => join(folder, `${k}.bmp`));
        for (const [k, bitmap] of bitmaps.entries()) writeFileSync(files[k], await encodeBitmapBmp(bitmap));
        // One process reads all, and writes their pixels one after the other.
        const grey = answer("convert", [...files, "-depth", "8", "gray:-"], new Uint8Array(0));
        let at = 0;
        for (const [k, bitmap] of bitmaps.entries()) {
          const expected = Buffer.from(greyValues(bitmap));
          const read = grey.subarray(at, at + expected.length);
          expect(read.equals(expected), `${sizes[k][1]} columns`).toBe(true);
          at += expected.length;
        }
        expect(grey).toHaveLength(at);
      } finally {
        rmSync(folder, { recursive: true });
      }
    },
  );
});
