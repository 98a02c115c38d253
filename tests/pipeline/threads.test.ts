import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { PrepareOptions } from "../../src/index.js";
import { photographPath } from "./photograph.js";

// The built package: threads are started from JavaScript files only.
const built = new URL("../../dist/index.js", import.meta.url).href;
const { prepare, prepareTo } = (await import(built)) as typeof import("../../src/index.js");

const photo = readFileSync(photographPath("nagasaki-boats"));

/**
 * A second thread is used from a million pixels on, and before the photo is known a missing side counts as long as the other: a
 * high and narrow part of a photo is enough, with a quarter of the pixels. What closes round a cylinder has no missing side.
 */
const options: PrepareOptions = {
  ...{ heightMm: 52, linesPerInch: 508, material: "maple" },
  crop: { leftPercent: 40, topPercent: 0, widthPercent: 20, heightPercent: 100 },
};

let started = 0;
const count = (): void => void started++;
beforeAll(() => void process.on("worker", count));
afterAll(() => void process.off("worker", count));

/** The bitmap's file and the report, of a piece without pictures. */
async function burned(asked: PrepareOptions, threads: number) {
  const parts: Uint8Array[] = [];
  const burn = (bytes: Uint8Array): void => void parts.push(bytes.slice());
  const report = await prepareTo(photo, asked, { burn }, { threads });
  return { report, files: [Buffer.concat(parts)] };
}

async function pictured(asked: PrepareOptions, threads: number) {
  const piece = await prepare(photo, asked, { threads });
  const { report, burnFile, previewFile = burnFile, reportPage = burnFile } = piece;
  return { report, files: [burnFile, previewFile, reportPage].map((file) => Buffer.from(file)) };
}

// Whatever halftones differently is compared by its bitmap; what a prediction, preview or page shows differently, by all files.
describe("one thread or two", () => {
  it.each<[string, PrepareOptions, typeof burned]>([
    ["a model of the surface", { method: "dose-feedback" }, burned],
    ["solid artwork", { kind: "solid" }, pictured],
    ["power levels in another format", { levels: 16, method: "floyd-steinberg", format: "tiff" }, pictured],
    [
      "a masked oval with a border",
      {
        method: "dot-diffusion",
        mask: photo,
        crop: { leftPercent: 55, topPercent: 5, widthPercent: 25, heightPercent: 80 },
        focus: { xPercent: 70, yPercent: 40 },
        ...{
          oval: true,
          vignetteMm: 3,
          borderMm: 0.5,
          mirror: true,
          localContrast: 0.5,
          sharpen: 0.5,
          lift: 0.7,
        },
      },
      pictured,
    ],
    ["a ring", { method: "blue-noise", aroundMm: 16.6 }, burned],
    ["a cone", { method: "green-noise", aroundMm: { topMm: 18.2, bottomMm: 15 }, mirror: true }, pictured],
  ])("give the same bytes: %s", async (_, more, made) => {
    const asked = { ...options, ...more };
    const one = await made(asked, 1);
    expect(started).toBe(0);
    const two = await made(asked, 2);
    expect(started).toBe(1);
    started = 0;
    expect(new Set(one.files.map(({ length }) => length)).size).toBe(made === burned ? 1 : 3);
    two.files.forEach((file, k) => {
      expect(file.equals(one.files[k])).toBe(true);
    });
    expect(two.report).toEqual(one.report);
  });

  it("give the same bytes: a search", async () => {
    const asked = { linesPerInch: 508, material: "maple", widthMm: 14, heightMm: 14, crop: undefined };
    const [one, two] = [
      await burned({ ...asked, method: "burn-search", aim: "nominal" }, 1),
      await burned({ ...asked, method: "burn-search", aim: "nominal" }, 2),
    ];
    expect(started).toBe(2);
    started = 0;
    expect(two.files[0].equals(one.files[0])).toBe(true);
    expect(two.report).toEqual(one.report);
    expect(one.report.job.search?.passes).toBeGreaterThan(1);
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
