import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { checkValues, codesOf, sizeOf } from "./expectations.js";

interface Stored {
  orientation: number;
  stored: number[][];
}

/** Grey code for each of the numbers 1..6, far enough apart to survive a JPEG. */
const STEP = 40;

const storedFile = ({ orientation, stored }: Stored, scale: number) => {
  const rows = stored.flatMap((row) => Array(scale).fill(row.flatMap((n) => Array(scale).fill(n * STEP))));
  const raw = { width: 3 * scale, height: 2 * scale, channels: 1 } as const;
  return sharp(Uint8Array.from(rows.flat()), { raw }).toColourspace("b-w").withMetadata({ orientation });
};

describe.each(checkValues<Stored, number[][]>("exif.orient."))("$id ($source)", ({ inputs, expected }) => {
  it.each([
    ["png", {}],
    ["webp", { lossless: true }],
    ["tiff", { compression: "lzw" }],
  ] as const)("upright from a lossless %s", async (format, options) => {
    const photo = await decodePhoto(await storedFile(inputs, 1).toFormat(format, options).toBuffer());
    expect(sizeOf(photo)).toEqual([expected.length, expected[0]?.length]);
    // A lossless WebP stores RGB, and the weights of grey may round by one 16-bit code.
    expect(codesOf(photo).map((code) => Math.round(code / 257))).toEqual(
      expected.flat().map((n) => n * STEP),
    );
    expect(photo.orientation).toBe(inputs.orientation);
  });

  it("upright from a JPEG", async () => {
    // Numbers as squares of 8 × 8 pixels, one block of the transform each.
    const photo = await decodePhoto(await storedFile(inputs, 8).jpeg({ quality: 95 }).toBuffer());
    const [rows = 0, columns = 0] = sizeOf(photo);
    expect([rows, columns]).toEqual([8 * expected.length, 8 * expected[0]?.length]);
    const middles = expected.map((row, y) =>
      row.map((_, x) => Math.round(photo.luminance.pixels.get(8 * y + 4, 8 * x + 4) / 257 / STEP)),
    );
    expect(middles).toEqual(expected);
    expect(photo.orientation).toBe(inputs.orientation);
  });
});
