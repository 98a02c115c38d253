import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { decodePhoto } from "../../../src/1-photo/decode.js";
import type { Photo } from "../../../src/1-photo/photo.js";
import { stretchedRange } from "../../../src/2-tone/input-range.js";
import { toneTable } from "../../../src/2-tone/tone-table.js";
import { columnsOf, denseData, plane, rowsOf } from "../../../src/core/plane.js";
import type { PrepareOptions } from "../../../src/index.js";
import { resolveOptions } from "../../../src/options/options.js";
import { blackAndWhitePoints } from "../../../src/pipeline/photo/black-and-white-points.js";
import { engravedPart } from "../../../src/pipeline/photo/engraved-part.js";
import { adjustmentsOf } from "../../../src/pipeline/photo/luminance.js";
import { frameOf } from "../../../src/pipeline/photo/piece-size.js";
import { PHOTOGRAPHS, photographPath } from "../photograph.js";

/** Half as large as they are, which takes a quarter of the time. */
const photos = new Map<string, Photo>();
beforeAll(async () => {
  for (const name of PHOTOGRAPHS) {
    const half = sharp(await readFile(photographPath(name))).resize(512);
    photos.set(name, await decodePhoto(await half.png().toBuffer()));
  }
});

/** Share of what counts that ends at 0, and at 1, and did not before, in percent; `kept` says what counts, and how much. */
async function clipped(
  name: string,
  options: PrepareOptions,
  kept: (u: number, v: number) => number,
): Promise<[atBlack: number, atWhite: number]> {
  const photo = photos.get(name);
  if (!photo) throw new Error(`no photograph ${name}`);
  const [columns, rows] = [columnsOf(photo.luminance), rowsOf(photo.luminance)];
  const place = (i: number) =>
    [((i % columns) + 0.5) / columns, (Math.floor(i / columns) + 0.5) / rows] as const;
  const opacity = Uint16Array.from({ length: columns * rows }, (_, i) =>
    Math.round(65535 * kept(...place(i))),
  );
  const resolved = resolveOptions(options);
  // A crop and an oval are found by the code; partial shares are given to it as opacity.
  const soft = opacity.some((share) => share > 0 && share < 65535);
  const source = soft ? { ...photo, opacity: plane("opacity", opacity, rows, columns) } : photo;
  const shown = await engravedPart(source, resolved);
  const table = toneTable(
    stretchedRange(blackAndWhitePoints(shown, frameOf(source, resolved), resolved)),
    adjustmentsOf(resolved),
  );
  const sums = [0, 0, 0];
  denseData(photo.luminance).forEach((code, i) => {
    const share = opacity[i] / 65535;
    sums[0] += share;
    if (code > 0 && table[code] === 0) sums[1] += share;
    if (code < 65535 && table[code] === 1) sums[2] += share;
  });
  return [(100 * sums[1]) / sums[0], (100 * sums[2]) / sums[0]];
}

describe.each(PHOTOGRAPHS)("automatic levels of the photograph %s", (name) => {
  const within = (u: number, v: number, left: number, top: number, width: number, height: number) =>
    u > left && u < left + width && v > top && v < top + height ? 1 : 0;

  it.each<[string, PrepareOptions, (u: number, v: number) => number]>([
    ["whole", {}, () => 1],
    [
      "cropped",
      { crop: { leftPercent: 12.5, topPercent: 25, widthPercent: 50, heightPercent: 50 } },
      (u, v) => within(u, v, 0.125, 0.25, 0.5, 0.5),
    ],
    ["in an oval", { oval: true }, (u, v) => (Math.hypot(2 * u - 1, 2 * v - 1) < 1 ? 1 : 0)],
    ["with a soft mask", {}, (u, v) => Math.min(1, Math.max(0, (0.5 - Math.hypot(u - 0.4, v - 0.6)) / 0.3))],
  ])("clip no more than their percentage, %s", async (_, options, kept) => {
    for (const clipPercent of [0.1, 1]) {
      const ends = await clipped(name, { ...options, clipPercent }, kept);
      for (const percent of ends) {
        // Rounding decides which pixels an edge cuts in half, so the result may differ by one row or column.
        expect(percent).toBeLessThanOrEqual(clipPercent * (options.oval || options.crop ? 1.02 : 1 + 1e-6));
        expect(percent).toBeGreaterThan(0);
      }
    }
  });
});
