import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { encodeBitmap } from "../../../src/6-report/files/bitmap-file.js";
import { type Bitmap, plane } from "../../../src/core/plane.js";
import { pitchMmFromLinesPerInch } from "../../../src/core/units.js";
import { hasTool } from "../../support/tool.js";
import { answer, greyValues, randomBitmap } from "./sample-bitmap.js";

/**
 * Fields of the first directory of a little-endian TIFF by tag: a number for one SHORT or LONG, a quotient for a RATIONAL.
 * Adobe, TIFF Revision 6.0 Final, 1992, section 2.
 */
function fieldsOf(tiff: Buffer): Map<number, number> {
  expect(tiff.subarray(0, 4).toString("hex")).toBe("49492a00");
  const directory = tiff.readUInt32LE(4);
  const fields = new Map<number, number>();
  for (let i = 0; i < tiff.readUInt16LE(directory); i++) {
    const at = directory + 2 + 12 * i;
    const [tag, type, value] = [tiff.readUInt16LE(at), tiff.readUInt16LE(at + 2), tiff.readUInt32LE(at + 8)];
    if (type === 3) fields.set(tag, tiff.readUInt16LE(at + 8));
    else fields.set(tag, type === 5 ? tiff.readUInt32LE(value) / tiff.readUInt32LE(value + 4) : value);
  }
  return fields;
}

const encode = async (bitmap: Bitmap): Promise<Buffer> => Buffer.from(await encodeBitmap(bitmap, "tiff"));

describe("encodeBitmapTiff", () => {
  // TIFF 6.0, section 3 (bilevel images) and 8: ImageWidth 256, ImageLength 257, BitsPerSample 258 = 1,
  // PhotometricInterpretation 262 = 1 (BlackIsZero), SamplesPerPixel 277, ResolutionUnit 296 = 3 (cm);
  // Compression 259 = 8 is Deflate (Adobe, Photoshop TIFF Technical Notes, 2002).
  it("is bilevel, black is zero, in centimetres", async () => {
    const fields = fieldsOf(await encode(randomBitmap(11, 13)));
    const values = [256, 257, 258, 259, 262, 277, 296].map((tag) => fields.get(tag));
    expect(values).toEqual([13, 11, 1, 8, 1, 1, 3]);
    expect([fields.get(282), fields.get(283)]).toEqual([200, 100]);
  });

  // tiff.cm.400 of tests/data/check-values.json (TIFF 6.0, tags 282, 283, 296): XResolution 400 per cm is 1016 dpi.
  it("says 1016 per inch as 400 per centimetre", async () => {
    const pitch = { alongMm: pitchMmFromLinesPerInch(1016), acrossMm: 0.1 };
    expect(fieldsOf(await encode(randomBitmap(2, 2, pitch))).get(282)).toBe(400);
  });

  // A 32-bit float has 24 bits: half a unit in the last place is 2^-24 of the value.
  it.each([0.0847, 0.115, 0.0123457, 25.4 / 300, 25.4 / 1000, 1 / 7])(
    "keeps a pitch of %f mm",
    async (alongMm) => {
      const fields = fieldsOf(await encode(randomBitmap(2, 2, { alongMm, acrossMm: 3 * alongMm })));
      expect(Math.abs((fields.get(282) ?? 0) * (alongMm / 10) - 1)).toBeLessThan(2 ** -24);
      expect(Math.abs((fields.get(283) ?? 0) * ((3 * alongMm) / 10) - 1)).toBeLessThan(2 ** -24);
    },
  );

  it("gives the same bytes twice and leaves the bitmap alone", async () => {
    const bitmap = randomBitmap(300, 301);
    const before = bitmap.pixels.data.slice();
    const tiff = await encode(bitmap);
    expect(tiff.equals(await encode(bitmap))).toBe(true);
    expect(bitmap.pixels.data).toEqual(before);
  });

  it("refuses a bitmap without a pitch", async () => {
    await expect(encode(plane("bitmap", new Uint8Array(4), 2, 2))).rejects.toMatchObject({
      code: "INTERNAL",
    });
  });

  it("reads back every width and a large bitmap", async () => {
    const sizes = [...Array.from({ length: 17 }, (_, i) => [5, i + 1]), [701, 1003]];
    for (const [rows, columns] of sizes) {
      const bitmap = randomBitmap(rows, columns);
      const grey = await sharp(await encode(bitmap))
        .toColourspace("b-w")
        .raw()
        .toBuffer();
      expect(grey.equals(Buffer.from(greyValues(bitmap))), `${columns} columns`).toBe(true);
    }
  });
});

describe("TIFF by outside programs", () => {
  it.skipIf(!hasTool("tiffinfo", ["-h"]))("tiffinfo: both densities, min-is-black", async () => {
    const folder = mkdtempSync(join(tmpdir(), "bitmap-tiff-"));
    const path = join(folder, "burn.tif"); // tiffinfo takes no standard input
    writeFileSync(path, await encode(randomBitmap(11, 13)));
    const report = answer("tiffinfo", [path], new Uint8Array(0)).toString();
    rmSync(folder, { recursive: true });
    expect(report).toContain("Image Width: 13 Image Length: 11");
    expect(report).toContain("Resolution: 200, 100 pixels/cm");
    expect(report).toContain("Bits/Sample: 1");
    expect(report).toContain("Photometric Interpretation: min-is-black");
  });

  it.skipIf(!hasTool("identify", ["-version"]))("ImageMagick: size, both densities, one bit", async () => {
    const facts = answer(
      "identify",
      ["-format", "%w %h %x %y %z %U %[type]", "tiff:-"],
      await encode(randomBitmap(11, 13)),
    );
    expect(facts.toString()).toBe("13 11 200 100 1 PixelsPerCentimeter Bilevel");
  });

  it.skipIf(!hasTool("convert", ["-version"]))("ImageMagick reads back the pixels", async () => {
    const bitmap = randomBitmap(701, 1003);
    const grey = answer("convert", ["tiff:-", "-depth", "8", "gray:-"], await encode(bitmap));
    expect(grey.equals(Buffer.from(greyValues(bitmap)))).toBe(true);
  });
});
