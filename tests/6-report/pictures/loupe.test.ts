import { PNG } from "pngjs";
import { expect, it } from "vitest";
import { createLoupe, type LoupeBurn, loupeTables } from "../../../src/6-report/pictures/loupe.js";
import { createResponse } from "../../../src/core/material/response.js";
import { packBitmap, unpackBitmap } from "../../../src/core/packed-bits.js";
import { seededRandom } from "../../../src/core/random.js";

const pitch = { alongMm: 0.05, acrossMm: 0.05 };
const taps = { before: 0, width: 1, taps: [1] };
const burn: LoupeBurn = {
  ...{ samplesAlong: 1, samplesAcross: 1, evenLines: taps, oddLines: taps, across: taps, lineExponent: 1 },
  ...{ closed: false, inverseDose: [1, 1], lastDose: 1, luminance: [], colours: "" },
};

const SCALE = 8;

function randomDots(columns: number, rows: number): Uint8Array {
  const random = seededRandom(2);
  const bits = new Uint8Array(columns * rows);
  for (let i = 0; i < bits.length; i++) bits[i] = random() < 0.5 ? 1 : 0;
  return bits;
}

/** Random dots. The visible picture has a patch in one place. */
function pieceOf(columns: number, rows: number, patchX: number, patchY: number, mirror: boolean) {
  const bits = randomDots(columns, rows);
  const size = { columns: Math.round(columns / SCALE), rows: Math.round(rows / SCALE) };
  const values = Float32Array.from({ length: size.columns * size.rows }, (_, i) => {
    const [x, y] = [SCALE * (i % size.columns), SCALE * Math.floor(i / size.columns)];
    return Math.abs(x - patchX) < 60 && Math.abs(y - patchY) < 100 ? 0.1 : 0.5;
  });
  return { bitmap: packBitmap(bits, columns, rows), seen: { ...size, values, mirror } };
}

it.each([false, true])(
  "a small bitmap goes under the loupe whole, beginning where there is most to see; mirrored %s",
  async (mirror) => {
    const { bitmap, seen } = pieceOf(1003, 700, 700, 300, mirror);
    const { region, isWhole, start, png } = await createLoupe(bitmap, pitch, "noise", seen, burn);
    expect(isWhole).toBe(true);
    expect(region).toEqual({ left: 0, top: 0, columns: 1003, rows: 700 });
    // At the patch's border.
    const atEdge =
      Math.abs(Math.abs(start.x - 700) - 60) < 40 || Math.abs(Math.abs(start.y - 300) - 100) < 40;
    expect(atEdge && Math.abs(start.x - 700) < 110 && Math.abs(start.y - 300) < 150).toBe(true);
    const read = PNG.sync.read(Buffer.from(png));
    const bits = unpackBitmap(bitmap);
    expect(bits.every((bit, i) => read.data[4 * i] === (bit ? 0 : 255))).toBe(true);
  },
);

it.each([false, true])(
  "of a large one a part, in the piece's proportions, with its own dots; mirrored %s",
  async (mirror) => {
    const [columns, rows] = [6001, 4000];
    const { bitmap, seen } = pieceOf(columns, rows, 5200, 3300, mirror);
    const { region, isWhole, start, png } = await createLoupe(bitmap, pitch, "noise", seen, burn);
    expect(isWhole).toBe(false);
    expect(region.columns * region.rows).toBeLessThanOrEqual(12.6e6);
    expect(region.columns * region.rows).toBeGreaterThan(12.5e6);
    expect(region.columns / region.rows).toBeCloseTo(columns / rows, 2);
    // Odd lines may differ from even ones.
    expect(region.top % 2).toBe(0);
    expect(region.left + region.columns).toBeLessThanOrEqual(columns);
    expect(region.top + region.rows).toBeLessThanOrEqual(rows);
    // It contains the patch and the first view.
    const seenLeft = mirror ? columns - region.left - region.columns : region.left;
    for (const [x, y] of [[5200, 3300], Object.values(start)]) {
      expect(x > seenLeft && x < seenLeft + region.columns).toBe(true);
      expect(y > region.top && y < region.top + region.rows).toBe(true);
    }
    const read = PNG.sync.read(Buffer.from(png));
    expect([read.width, read.height]).toEqual([region.columns, region.rows]);
    const bits = unpackBitmap(bitmap);
    let wrong = 0;
    for (let y = 0; y < region.rows; y += 7) {
      for (let x = 0; x < region.columns; x++) {
        const bit = bits[(region.top + y) * columns + region.left + x];
        if (read.data[4 * (y * region.columns + x)] !== (bit ? 0 : 255)) wrong++;
      }
    }
    expect(wrong).toBe(0);
  },
);

it("tables hold the response from bare to its last dose", () => {
  const response = createResponse([
    [0, 0.8],
    [2, 0.2],
  ]);
  const { lastDose, luminance, colours } = loupeTables(response, (factor, rgb, at) => {
    rgb.fill(Math.round(255 * factor), at, at + 3);
  });
  expect(lastDose).toBeCloseTo(2, 9);
  const last = luminance.length - 1;
  expect([luminance[0], luminance[last]]).toEqual([80000, 20000]);
  // Two points are joined by a straight line.
  expect(luminance[Math.round(last / 3)] / 1e5).toBeCloseTo(0.6, 3);
  expect(colours).toHaveLength(6 * luminance.length);
  expect(colours.slice(0, 6)).toBe("cccccc");
  expect(colours.slice(-6)).toBe("333333");
});
