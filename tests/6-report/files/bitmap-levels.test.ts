import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { type BitmapFormat, encodeBitmap } from "../../../src/6-report/files/bitmap-file.js";
import { createPngWriter } from "../../../src/6-report/files/bitmap-png.js";
import { plane } from "../../../src/core/plane.js";
import { seededRandom } from "../../../src/core/random.js";
import { hasTool } from "../../support/tool.js";
import { answer, unequalPitch } from "./sample-bitmap.js";

const FORMATS: readonly BitmapFormat[] = ["png", "tiff", "bmp"];

function sample(levels: number, rows: number, columns: number) {
  const random = seededRandom(levels);
  const data = Uint8Array.from({ length: rows * columns }, () => Math.floor(levels * random()));
  // Black for full power: section 1 of the engraving model, and 255 is white in every one of the formats.
  const greys = Buffer.from(data.map((level) => Math.round(255 * (1 - level / (levels - 1)))));
  return { bitmap: plane("bitmap", data, rows, columns, unequalPitch), greys };
}

describe.each(FORMATS)("a bitmap of power levels as %s", (format) => {
  const sharpReads = format !== "bmp";

  if (sharpReads)
    it("is 8 bits of grey that sharp reads back, of any width", async () => {
      for (const [levels, columns] of [
        [3, 1],
        [4, 7],
        [16, 64],
        [256, 701],
      ]) {
        const { bitmap, greys } = sample(levels, 13, columns);
        const file = Buffer.from(await encodeBitmap(bitmap, format, levels));
        const { channels, depth } = await sharp(file).metadata();
        expect([channels, depth]).toEqual([1, "uchar"]);
        expect((await sharp(file).toColourspace("b-w").raw().toBuffer()).equals(greys)).toBe(true);
      }
    });

  it.skipIf(!hasTool("convert", ["-version"]))(
    "ImageMagick reads back pixels and both densities",
    async () => {
      for (const [levels, columns] of [
        [3, 5],
        [16, 66],
        [256, 701],
      ]) {
        const { bitmap, greys } = sample(levels, 13, columns);
        const file = await encodeBitmap(bitmap, format, levels);
        expect(answer("convert", [`${format}:-`, "-depth", "8", "gray:-"], file).equals(greys)).toBe(true);
        const facts = answer("identify", ["-format", "%w %h %x %y %U", `${format}:-`], file).toString();
        expect(facts).toBe(`${columns} 13 200 100 PixelsPerCentimeter`);
      }
    },
  );
});

it("a PNG is the same however many rows come at a time", async () => {
  const { bitmap } = sample(16, 40, 33);
  const expected = Buffer.from(await encodeBitmap(bitmap, "png", 16));
  for (const atATime of [1, 7]) {
    const pieces: Buffer[] = [];
    const shape = { columns: 33, rows: 40, levels: 16, pitch: unequalPitch };
    const writer = await createPngWriter(shape, "noise", (bytes) => {
      pieces.push(Buffer.from(bytes));
    });
    for (let y = 0; y < 40; y += atATime) {
      const count = Math.min(atATime, 40 - y);
      await writer.write(bitmap.pixels.data.subarray(y * 33, (y + count) * 33), count);
    }
    await writer.end();
    expect(Buffer.concat(pieces).equals(expected)).toBe(true);
  }
});
