import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import type { PrepareOptions } from "../../src/index.js";
import { prepare } from "../support/prepare.js";
import { photographPath } from "./photograph.js";

const quick: PrepareOptions = { method: "floyd-steinberg", linesPerInch: 508, bitmapOnly: true };

/** Ink of a picture of `columns` × `rows` blocks: mean darkness 0..1 of each, row-major. */
async function blocks(png: Uint8Array, columns: number, rows: number): Promise<number[]> {
  const small = sharp(png).toColourspace("b-w").resize(columns, rows, { fit: "fill", kernel: "cubic" });
  return Array.from(await small.raw().toBuffer(), (value) => 1 - value / 255);
}

const reversedRows = (values: readonly number[], columns: number): number[] =>
  values.map((_, i) => values[i - (i % columns) + columns - 1 - (i % columns)]);

const meanDifference = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + Math.abs(value - b[i]), 0) / a.length;

describe("mirror", () => {
  it("turns the bitmap left for right, and the preview stays as the piece is seen", async () => {
    const photo = await readFile(photographPath("nagasaki-boats"));
    const options = { ...quick, widthMm: 20, bitmapOnly: false };
    const plain = await prepare(photo, options);
    const mirrored = await prepare(photo, { ...options, mirror: true });
    const [plainBurn, mirroredBurn] = [
      await blocks(plain.burnFile, 10, 8),
      await blocks(mirrored.burnFile, 10, 8),
    ];
    expect(meanDifference(reversedRows(plainBurn, 10), mirroredBurn)).toBeLessThan(0.01);
    expect(meanDifference(plainBurn, mirroredBurn)).toBeGreaterThan(0.05);
    const [plainSeen, mirroredSeen] = [
      await blocks(plain.previewFile ?? new Uint8Array(), 10, 8),
      await blocks(mirrored.previewFile ?? new Uint8Array(), 10, 8),
    ];
    expect(meanDifference(plainSeen, mirroredSeen)).toBeLessThan(0.01);
    expect(mirrored.report.job.mirror).toBe(true);
  });
});

describe("shape and size", () => {
  const grey = (width: number, height: number) =>
    sharp({ create: { width, height, channels: 3, background: "#777" } })
      .png()
      .toBuffer();

  it.each<[string, number, number, PrepareOptions, number, number]>([
    ["one pixel, longer side 100 mm", 1, 1, { linesPerInch: 254 }, 1000, 1000],
    ["one pixel on a piece of one pixel", 1, 1, { widthMm: 0.05 }, 1, 1],
    ["a sliver, upright", 3, 1000, { heightMm: 50 }, 3, 1000],
    ["a sliver, lying", 1000, 3, { widthMm: 50 }, 1000, 3],
    ["cover", 40, 30, { widthMm: 5, heightMm: 5, fit: "cover" }, 100, 100],
    ["contain", 40, 30, { widthMm: 5, heightMm: 5, fit: "contain" }, 100, 100],
    ["stretch", 40, 30, { widthMm: 5, heightMm: 10, fit: "stretch" }, 100, 200],
    ["unequal densities", 40, 30, { widthMm: 10, linesPerInchAlong: 1016 }, 400, 150],
  ])("%s", async (_, width, height, options, columns, rows) => {
    const { report, bitmap } = await prepare(await grey(width, height), { ...quick, ...options });
    expect([report.job.columns, report.job.rows]).toEqual([columns, rows]);
    expect(bitmap.pixels.shape).toEqual([rows, columns]);
    expect(report.job.widthMm).toBeCloseTo(columns * report.job.pitchAlongMm, 9);
    expect(report.job.heightMm).toBeCloseTo(rows * report.job.pitchAcrossMm, 9);
  });

  it.each([
    [1, 1],
    [3, 1000],
    [1000, 3],
  ])("a preview can be made of %i × %i pixels", async (width, height) => {
    const piece = await prepare(await grey(width, height), { ...quick, bitmapOnly: false, widthMm: 2 });
    const { format, width: shown = 0 } = await sharp(piece.previewFile).metadata();
    expect(format).toBe("png");
    expect(shown).toBeGreaterThan(0);
    for (const value of Object.values(piece.report.prediction ?? {})) expect(value).not.toBeNaN();
  });

  it("contain leaves the rest of the box bare, cover fills it", async () => {
    const black = await sharp({ create: { width: 40, height: 20, channels: 3, background: "#000" } })
      .png()
      .toBuffer();
    const size = { widthMm: 10, heightMm: 10, autoTone: false } as const;
    const contained = await prepare(black, { ...quick, ...size, fit: "contain" });
    const covered = await prepare(black, { ...quick, ...size, fit: "cover" });
    expect(contained.report.coverage.burnFraction).toBeCloseTo(0.5, 9);
    expect(covered.report.coverage.burnFraction).toBe(1);
  });

  it("refuses a piece of more pixels than can be handled", async () => {
    const tooLarge = prepare(await grey(40, 30), { widthMm: 3000, linesPerInch: 5080 });
    await expect(tooLarge).rejects.toMatchObject({ code: "OPTION_TOO_LARGE" });
  });
});
