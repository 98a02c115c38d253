import { readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import type { PrepareOptions } from "../../src/index.js";
import { photographPath } from "./photograph.js";

// The built package: threads are started from JavaScript files only.
const built = new URL("../../dist/index.js", import.meta.url).href;
const { prepare, prepareTo } = (await import(built)) as typeof import("../../src/index.js");

let photo: Uint8Array;
beforeAll(async () => {
  photo = await readFile(photographPath("nagasaki-boats"));
});

/** More than a million pixels, so that a second thread is used. */
const options: PrepareOptions = { widthMm: 52, heightMm: 52, linesPerInch: 508, material: "maple" };

// Whatever halftones differently is compared by its bitmap; what a prediction, preview or page shows differently, by all files.
describe("one thread or two", () => {
  it.each<[string, PrepareOptions]>([
    ["a tile", { method: "blue-noise", bitmapOnly: true }],
    ["a model of the surface", { method: "dose-feedback", bitmapOnly: true }],
    ["solid artwork", { kind: "solid" }],
    ["power levels", { levels: 16, method: "floyd-steinberg" }],
    ["a search", { method: "burn-search", aim: "nominal", widthMm: 14, heightMm: 14, bitmapOnly: true }],
    ["another format", { method: "dot-diffusion", format: "tiff", bitmapOnly: true }],
    [
      "a masked oval with a border",
      {
        method: "floyd-steinberg",
        mask: readFileSync(photographPath("nagasaki-boats")),
        crop: { leftPercent: 5, topPercent: 5, widthPercent: 90, heightPercent: 80 },
        focus: { xPercent: 70, yPercent: 40 },
        ...{
          oval: true,
          vignetteMm: 5,
          borderMm: 0.5,
          mirror: true,
          localContrast: 0.5,
          sharpen: 0.5,
          lift: 0.7,
        },
      },
    ],
    ["a ring", { method: "green-noise", widthMm: undefined, aroundMm: 20, bitmapOnly: true }],
    [
      "a cone",
      { method: "blue-noise", widthMm: undefined, aroundMm: { topMm: 22, bottomMm: 18 }, mirror: true },
    ],
  ])("give the same bytes: %s", async (_, more) => {
    const [one, two] = await Promise.all(
      [1, 2].map((threads) => prepare(photo, { ...options, ...more }, { threads })),
    );
    expect(Buffer.from(two.burnFile).equals(one.burnFile)).toBe(true);
    expect(one.previewFile === undefined).toBe(more.bitmapOnly === true);
    expect(Buffer.from(two.previewFile ?? []).equals(one.previewFile ?? new Uint8Array(0))).toBe(true);
    expect(Buffer.from(two.reportPage ?? []).equals(one.reportPage ?? new Uint8Array(0))).toBe(true);
    expect(two.report).toEqual(one.report);
  });

  it("pass on what the disk says", async () => {
    const full = prepareTo(
      photo,
      { ...options, method: "floyd-steinberg" },
      {
        burn: () => {
          throw new Error("the disk is full");
        },
        preview: () => {},
      },
      { threads: 2 },
    );
    await expect(full).rejects.toThrow("the disk is full");
  });
});
