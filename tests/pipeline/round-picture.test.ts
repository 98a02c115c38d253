import { readFileSync } from "node:fs";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { denseData } from "../../src/core/plane.js";
import type { PrepareOptions } from "../../src/index.js";
import { resolveOptions } from "../../src/options/options.js";
import { prepare } from "../support/prepare.js";
import { refusalOf } from "../support/refusal.js";
import { photographPath } from "./photograph.js";

const boats = readFileSync(photographPath("nagasaki-boats"));
const quick: PrepareOptions = { linesPerInch: 254, method: "floyd-steinberg", bitmapOnly: true };
const cylinder: PrepareOptions = { ...quick, aroundMm: 20 };

describe("a round piece", () => {
  it("has its border above and below, all the way round, and none at the seam", async () => {
    const { bitmap, report } = await prepare(boats, { ...cylinder, borderMm: 0.5, borderGapMm: 0.5 });
    const { columns, rows, border } = report.job;
    const bits = denseData(bitmap);
    const burnedIn = (y: number) =>
      bits.subarray(y * columns, (y + 1) * columns).filter((bit) => bit === 1).length;
    const level = border?.levelPx ?? Number.NaN;
    for (const y of [0, level - 1, rows - level, rows - 1]) expect(burnedIn(y)).toBe(columns);
    for (const y of [level, level + 1, rows - level - 1]) expect(burnedIn(y)).toBe(0);
    // A photograph of harbour and sky: nowhere else is a column solid from top to bottom.
    for (const x of [0, 1, columns - 1]) {
      const column = Array.from({ length: rows }, (_, y) => bits[y * columns + x]);
      expect(column.includes(0)).toBe(true);
      expect(column.slice(level).includes(1)).toBe(true);
    }
  });

  it("is cropped like a flat one", async () => {
    const { width, height } = await sharp(boats).metadata();
    const [left, top] = [Math.round(width / 4), Math.round(height / 4)];
    const size = { width: Math.round(width / 2), height: Math.round(height / 2) };
    const alone = await sharp(boats)
      .extract({ left, top, ...size })
      .png()
      .toBuffer();
    const crop = { leftPx: left, topPx: top, widthPx: size.width, heightPx: size.height };
    for (const aroundMm of [20, { topMm: 22, bottomMm: 18 }]) {
      const cropped = await prepare(boats, { ...quick, aroundMm, crop });
      const whole = await prepare(alone, { ...quick, aroundMm });
      expect(Buffer.from(cropped.burnFile).equals(Buffer.from(whole.burnFile))).toBe(true);
    }
  });

  // On a cone the photo covers a sheet that is higher than the piece, and is bent: there the disc is larger and not quite one.
  it.each<[string, PrepareOptions["aroundMm"], number]>([
    ["a cylinder", 20, 1.02],
    ["a cone", { topMm: 22, bottomMm: 18 }, 1.3],
  ])("leaves what a mask takes away bare on %s", async (_, aroundMm, farthest) => {
    const { width, height } = await sharp(boats).metadata();
    const disc = (radius: number) =>
      Buffer.from(
        `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%"/><circle cx="${width / 2}" cy="${height / 2}" r="${radius * height}" fill="#fff"/></svg>`,
      );
    const mask = await sharp(disc(0.3)).png().toBuffer();
    const { bitmap, report } = await prepare(boats, {
      ...quick,
      aroundMm,
      mask,
      sharpen: 1,
      localContrast: 0.5,
    });
    const { columns, rows, pitchAlongMm, pitchAcrossMm } = report.job;
    const bits = denseData(bitmap);
    const radiusMm = 0.3 * rows * pitchAcrossMm;
    let inside = 0;
    for (let i = 0; i < bits.length; i++) {
      if (bits[i] === 0) continue;
      const xMm = ((i % columns) + 0.5 - columns / 2) * pitchAlongMm;
      const yMm = (Math.floor(i / columns) + 0.5 - rows / 2) * pitchAcrossMm;
      if (Math.hypot(xMm, yMm) < farthest * radiusMm) inside++;
      else expect.fail(`burned at ${xMm.toFixed(1)}, ${yMm.toFixed(1)} mm`);
    }
    expect(inside).toBeGreaterThan(1000);
  });

  it.each<[string, PrepareOptions]>([
    ["oval", { aroundMm: 20, oval: true }],
    ["focus", { aroundMm: { topMm: 22, bottomMm: 18 }, focus: { xPercent: 10, yPercent: 10 } }],
  ])("takes no %s", (option, options) => {
    expect(refusalOf(() => resolveOptions(options))).toMatchObject({ code: "OPTION_CONFLICT", option });
  });
});
