import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { denseData } from "../../../src/core/plane.js";
import type { PrepareOptions } from "../../../src/index.js";
import { prepare } from "../../support/prepare.js";
import { seamStandsOut, seamStatistics } from "../../support/seam.js";
import { photographPath } from "../photograph.js";

/*
 * The whole way from photo to bitmap, local contrast and sharpening and compensation on: where a cylinder closes, tone and
 * texture differ no more than between any other columns.
 */

/** One of each family; the tests of the halftone stage look at all of them. */
const METHODS = [
  "floyd-steinberg",
  "ostromoukhov",
  "green-noise",
  "blue-noise",
  "dot-diffusion",
  "clustered-dot",
  "bayer-8",
];

const OPTIONS: PrepareOptions = {
  aroundMm: 17.5,
  linesPerInch: 254,
  spotMm: 0.115,
  localContrast: 0.6,
  sharpen: 1,
  bitmapOnly: true,
};

/** Grey from top to bottom and back, the same in every column. */
async function ramp(): Promise<Buffer> {
  const [width, height] = [400, 200];
  const grey = Buffer.from(
    Array.from({ length: width * height }, (_, i) =>
      Math.round(128 - 110 * Math.cos((2 * Math.PI * Math.floor(i / width)) / height)),
    ),
  );
  return sharp(grey, { raw: { width, height, channels: 1 } })
    .png()
    .toBuffer();
}

/** A photograph beside its mirror image: it repeats, and nothing in it breaks off. */
async function repeating(): Promise<Buffer> {
  const half = await sharp(photographPath("nagasaki-boats")).greyscale().png().toBuffer();
  const { width, height } = await sharp(half).metadata();
  return sharp({ create: { width: 2 * width, height, channels: 3, background: "black" } })
    .composite([
      { input: half, left: 0, top: 0 },
      { input: await sharp(half).flop().toBuffer(), left: width, top: 0 },
    ])
    .png()
    .toBuffer();
}

describe.each([
  ["a ramp down the piece", ramp, METHODS],
  ["a photograph that repeats", repeating, METHODS.slice(0, 3)],
] as const)("%s", (_, make, methods) => {
  let photo: Buffer;
  beforeAll(async () => {
    photo = await make();
  });

  it.each(methods)("%s shows no seam", async (method) => {
    const { bitmap, report } = await prepare(photo, { ...OPTIONS, method });
    const statistics = seamStatistics(denseData(bitmap), report.job.columns);
    for (const [respect, ratio] of Object.entries(seamStandsOut(statistics))) {
      expect(ratio, respect).toBeLessThan(1.2);
    }
    expect(report.warnings.map(({ code }) => code)).not.toContain("seam-shows");
  });
});

it("of a flat piece of the same ramp the seam would show", async () => {
  const { aroundMm: _, ...flat } = OPTIONS;
  const piece = await prepare(await ramp(), { ...flat, widthMm: 54.4, method: "floyd-steinberg" });
  const ratios = seamStandsOut(seamStatistics(denseData(piece.bitmap), piece.report.job.columns));
  expect(Math.max(...Object.values(ratios))).toBeGreaterThan(1.2);
});

it("a photograph that does not repeat is warned about", async () => {
  const photo = await sharp(photographPath("nagasaki-boats")).toBuffer();
  const { report } = await prepare(photo, { ...OPTIONS, method: "bayer-8" });
  const { stepLightness = 0, usualStepLightness = 0 } = report.job.around?.seam ?? {};
  expect(stepLightness).toBeGreaterThan(2 * usualStepLightness);
  expect(report.warnings.map(({ code }) => code)).toContain("seam-shows");
});
