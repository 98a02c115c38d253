import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { inspectPhoto } from "../../src/1-photo/decode.js";
import { batchSettings } from "../../src/batch/batch-options.js";
import { jobMemoryNeed, PROCESS_BYTES } from "../../src/batch/memory-need.js";
import { resolveOptions } from "../../src/options/options.js";

const MEGAPIXEL = 1e6;
/** Light of 16 bits, and once more while opacity is split off or a row is turned. */
const CODES = 4;
const even = () =>
  sharp({ create: { width: 1000, height: 1000, channels: 3, background: "#888" }, limitInputPixels: false });
const deep = () => even().toColourspace("rgb16");
const drawing = (inside: string, size = 100): Buffer =>
  Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="${size}" height="${size}">${inside}</svg>`);

/**
 * Bytes for each pixel that a worker was measured to add over that of a small photo (bench/upload-memory.ts, 35 megapixels; AVIF of
 * 10 bits 12 megapixels), the file not counted.
 */
const measured = [
  ["jpeg", () => even().jpeg(), 1],
  ["progressive jpeg", () => even().jpeg({ progressive: true }), 1.2],
  ["png", () => even().png(), 0.5],
  ["interlaced png of 16 bits", () => deep().png({ progressive: true }), 3.5],
  ["interlaced png of 16 bits with opacity", () => deep().ensureAlpha(0.5).png({ progressive: true }), 8],
  ["webp", () => even().webp(), 4],
  ["avif", () => even().avif({ effort: 0 }), 14],
] as const;

describe("the memory that an upload needs", () => {
  it.each(measured)(
    "is foreseen at least as it was measured, and not three times as much: %s",
    async (_what, make, perPixel) => {
      const bytes = await make().toBuffer();
      const need = jobMemoryNeed(await inspectPhoto(bytes), resolveOptions({ widthMm: 10 }));
      expect(need).toBeGreaterThanOrEqual((perPixel + CODES) * MEGAPIXEL + bytes.length);
      expect(need).toBeLessThan(3 * (perPixel + CODES) * MEGAPIXEL);
    },
  );

  it("of a drawing grows with its elements, its text and the pictures in it", async () => {
    const need = async (inside: string) =>
      jobMemoryNeed(await inspectPhoto(drawing(inside)), resolveOptions({ widthMm: 10 }));
    const plain = await need("<rect/>");
    // 100,000 rectangles took 3.2 kB each, an embedded photograph of 35 megapixels 8.6 bytes for each pixel.
    expect((await need("<rect/>".repeat(1001))) - plain).toBeGreaterThan(3200 * 1000);
    expect((await need(`<path d="M0 0${"h1".repeat(5e5)}"/>`)) - plain).toBeGreaterThan(2e6);
    const href = `data:image/png;base64,${(await even().png().toBuffer()).toString("base64")}`;
    expect((await need(`<image href="${href}"/>`)) - plain).toBeGreaterThan(8.6 * MEGAPIXEL);
  });

  it("of a drawing grows with the piece", async () => {
    const facts = await inspectPhoto(drawing("<rect/>"));
    const need = (widthMm: number) => jobMemoryNeed(facts, resolveOptions({ widthMm, linesPerInch: 254 }));
    // Four times the pixels, of at least 6 bytes each (src/1-photo/README.md).
    expect(need(200) - need(100)).toBeGreaterThan(6 * (2000 ** 2 - 1000 ** 2));
  });

  it("grows with the rows of a text below the picture", async () => {
    const facts = await inspectPhoto(await even().jpeg().toBuffer());
    const need = (text?: string) =>
      jobMemoryNeed(facts, resolveOptions({ widthMm: 100, linesPerInch: 254, text, textHeightMm: 50 }));
    // A byte for each of 1000 columns and, for each letter height of 500 pixels, as many rows as tests/pipeline/caption.test.ts finds:
    // 2.4 heights for a line, and 1.75 for each more.
    expect(need("boat") - need()).toBeGreaterThanOrEqual(1000 * 500 * 2.4);
    expect(need("a boat\n7") - need("boat")).toBeGreaterThanOrEqual(1000 * 500 * 2 * 1.75 - 1);
  });
});

describe("the memory of a batch", () => {
  const settings = (memoryGb: number, workers: number) => batchSettings({ memoryGb, workers }, 2, 16e9);

  it.each([
    [0.4, 8, 1],
    [0.8, 8, 2],
    [4, 8, 8],
    [64, 3, 3],
  ])("of %d GB is enough for some of %d workers: %d", (memoryGb, wanted, workers) => {
    expect(settings(memoryGb, wanted)).toMatchObject({ workers, memoryBytes: 1e9 * memoryGb });
  });

  it("is what the processes take, and what is left for their jobs", () => {
    for (const [memoryGb, wanted] of [
      [0.4, 4],
      [2, 3],
      [16, 2],
    ]) {
      const { workers, memoryBytes, jobBytes } = settings(memoryGb, wanted);
      expect(workers * PROCESS_BYTES + jobBytes).toBe(memoryBytes);
      expect(jobBytes).toBeGreaterThanOrEqual(0);
    }
  });
});
