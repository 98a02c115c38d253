import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { columnsOf, denseData, rowsOf } from "../../src/core/plane.js";
import { prepare } from "../../src/index.js";
import type { PrepareOptions } from "../../src/options/options.js";
import { photographPath } from "./photograph.js";

/** 0.1 mm pixels. */
const options: PrepareOptions = {
  ...{ widthMm: 20, linesPerInch: 254, material: "maple", method: "floyd-steinberg" },
  bitmapOnly: true,
};

let photo: Uint8Array;
let plain: Awaited<ReturnType<typeof made>>;
let captioned: typeof plain;
const text = "Ada & Bo";

beforeAll(async () => {
  photo = await sharp(photographPath("nagasaki-boats")).resize(240).png().toBuffer();
  plain = await made({});
  captioned = await made({ text });
});

async function made(more: PrepareOptions) {
  const { bitmap, report } = await prepare(photo, { ...options, ...more });
  const columns = columnsOf(bitmap);
  const bits = denseData(bitmap);
  const row = (y: number) => bits.subarray(y * columns, (y + 1) * columns);
  return { columns, rows: rowsOf(bitmap), row, report };
}
const inked = (row: ArrayLike<number>): number => Array.from(row).filter((level) => level > 0).length;

describe("a text below a photo", () => {
  it("has its height in mm, in the middle, and nothing is near it", async () => {
    const { columns, rows, row, report } = await made({ text: "HIH", textHeightMm: 2 });
    // Bare for one height of 20 pixels, then letters of 20, then room for what hangs below: 0.4 heights.
    expect(rows).toBe(plain.rows + 20 + 20 + 8);
    expect(report.job).toMatchObject({ columns: 200, rows, heightMm: expect.closeTo(rows / 10, 9) });
    expect(report.job.text).toEqual({ words: "HIH", heightMm: 2 });
    for (let y = plain.rows; y < rows; y++) {
      const isLetter = y >= plain.rows + 20 && y < plain.rows + 40;
      expect(inked(row(y)) > 0).toBe(isLetter);
    }
    const middle = Array.from(row(plain.rows + 25));
    const [first, last] = [middle.indexOf(1), middle.lastIndexOf(1)];
    expect(Math.abs(first - (columns - 1 - last))).toBeLessThanOrEqual(1);
    expect(report.runTime.lines).toBeGreaterThan(plain.report.runTime.lines);
  });

  it("does not change the photo above it", async () => {
    // The last rows see the bare surface below them, where the photo is sharpened for the spot.
    for (let y = 0; y < plain.rows - 8; y++) expect(Buffer.compare(captioned.row(y), plain.row(y))).toBe(0);
  });

  it("is solid at every number of power levels, and in a drawing", async () => {
    const { rows, row } = captioned;
    const many = await made({ text, levels: 16 });
    const solid = await made({ text, kind: "solid", method: undefined });
    for (let y = plain.rows; y < rows; y++) {
      const bits = Array.from(row(y));
      expect(Array.from(many.row(y))).toEqual(bits.map((bit) => 15 * bit));
      expect(Array.from(solid.row(y))).toEqual(bits);
    }
  });

  it.each<[string, PrepareOptions]>([
    ["a tile", { method: "clustered-dot" }],
    ["a random order", { method: "green-noise" }],
    ["a pale mark on a dark stone", { material: "slate" }],
    ["a border round the photo", { borderMm: 1, oval: true }],
  ])("has no dot beside its letters with %s", async (_, more) => {
    const other = await made({ ...more, text });
    for (let y = plain.rows; y < captioned.rows; y++)
      expect(Array.from(other.row(y))).toEqual(Array.from(captioned.row(y)));
  });

  it("is mirrored with the piece", async () => {
    const { rows, row } = captioned;
    const mirrored = await made({ text, mirror: true });
    for (let y = plain.rows; y < rows; y++) {
      expect(Array.from(mirrored.row(y)).reverse()).toEqual(Array.from(row(y)));
    }
  });

  it("is not possible on a round piece", async () => {
    await expect(made({ text: "Ada", aroundMm: 60, widthMm: undefined })).rejects.toMatchObject({
      code: "OPTION_CONFLICT",
      message: expect.stringMatching(/round piece/),
    });
  });
});
