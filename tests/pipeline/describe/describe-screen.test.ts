import sharp from "sharp";
import { expect, it } from "vitest";
import type { PrepareOptions } from "../../../src/index.js";
import { prepare, reportOf } from "../../support/prepare.js";

const photo = await sharp({ create: { width: 100, height: 80, channels: 3, background: "#888" } })
  .png()
  .toBuffer();
const job: PrepareOptions = {
  ...{ kind: "photo", widthMm: 10, spotMm: 0.1, linesPerInch: 508, material: "maple", bitmapOnly: true },
};

it.each([
  [127, 45],
  [100, 15],
])(
  "the report has the screen of %d lines per inch at %d degrees as it comes out on the grid",
  async (ruling, angle) => {
    const asked = { screenLinesPerInch: ruling, screenAngleDeg: angle };
    const report = await reportOf(photo, { ...job, ...asked, method: "clustered-dot" });
    // Whole cells in a tile of whole pixels: within 0.5 % and 0.5 degrees of what was asked for, and hardly ever that itself.
    expect(Math.abs((report.job.screen?.linesPerInch ?? 0) / ruling - 1)).toBeLessThan(0.005);
    expect(Math.abs((report.job.screen?.angleDeg ?? 0) - angle)).toBeLessThan(0.5);
    const others = await prepare(photo, { ...job, ...asked, method: "floyd-steinberg" });
    expect(others.report.job.screen).toBeUndefined();
  },
);

it("a screen too fine for the grid comes out as one cell to a pixel, and is told", async () => {
  const report = await reportOf(photo, { ...job, screenLinesPerInch: 500, method: "clustered-dot" });
  expect(report.job.screen?.linesPerInch).toBeCloseTo(508, 6);
  expect(report.warnings.map(({ code }) => code)).toContain("screen-too-fine");
});
