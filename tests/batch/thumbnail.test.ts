import { readFile } from "node:fs/promises";
import sharp, { type Sharp } from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto, inspectPhoto } from "../../src/1-photo/decode.js";
import { colourThumbnail, greyThumbnail, thumbnail } from "../../src/batch/thumbnail.js";
import { prepare } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";

describe("thumbnail", () => {
  it("shows the piece alone, not the paper round it", async () => {
    const photo = await readFile(photographPath("nagasaki-boats"));
    const options = { widthMm: 12, linesPerInch: 254, method: "floyd-steinberg", material: "slate" };
    const { previewFile, report } = await prepare(photo, options);
    const small = await thumbnail(previewFile ?? new Uint8Array(), report.job);
    const { width = 0, height = 0 } = await sharp(small).metadata();
    expect(Math.abs(width / height - report.job.widthMm / report.job.heightMm)).toBeLessThan(0.02);
    // Paper is 0xf6 throughout; slate is not.
    const { channels } = await sharp(small).stats();
    expect(Math.max(...channels.map(({ max }) => max))).toBeLessThan(0xf0);
  });
});

describe("the thumbnail of a photo", () => {
  const made = (format: "jpeg" | "png", background: string, columns = 600, rows = 400) =>
    sharp({ create: { width: columns, height: rows, channels: 4, background } })
      .toFormat(format)
      .toBuffer();
  const colourOf = async (picture: Sharp) => [
    ...(await picture.flatten({ background: "#fff" }).raw().toBuffer()).subarray(0, 3),
  ];

  it("is upright and in colour", async () => {
    // Orientation 6 of Exif: the first row of the file is the right side of the picture.
    const turned = await sharp(await made("jpeg", "#c04020"))
      .withMetadata({ orientation: 6 })
      .toBuffer();
    const picture = sharp(await colourThumbnail(turned, await inspectPhoto(turned)));
    const { width = 0, height = 0 } = await picture.metadata();
    expect([width, height]).toEqual([213, 320]);
    for (const [i, code] of (await colourOf(picture)).entries())
      expect(Math.abs(code - [0xc0, 0x40, 0x20][i])).toBeLessThan(6);
  });

  it("is left to the first decoder where it would be costly, or this one fails", async () => {
    const bytes = await made("png", "#c04020");
    const facts = { format: "png", columns: 5001, rows: 5000, decodingBytes: 0 } as const;
    expect(await colourThumbnail(bytes, facts)).toBeUndefined();
    expect(await colourThumbnail(bytes, { ...facts, rows: 4000 })).toBeDefined();
    expect(await colourThumbnail(new Uint8Array(100), { ...facts, rows: 1 })).toBeUndefined();
  });

  it("is grey for a drawing, transparent parts as paper", async () => {
    const drawing = Buffer.from(
      '<svg xmlns="http://www.w3.org/2000/svg" width="200" height="100"><rect x="100" width="100" height="100" fill="#000"/></svg>',
    );
    expect(await colourThumbnail(drawing, await inspectPhoto(drawing))).toBeUndefined();
    const picture = sharp(await greyThumbnail(await decodePhoto(drawing)));
    expect(Math.min(...(await colourOf(picture)))).toBeGreaterThan(250);
  });
});
