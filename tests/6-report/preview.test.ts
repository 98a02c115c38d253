import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import { materialPainter } from "../../src/6-report/appearance.js";
import { composePreview, previewSize } from "../../src/6-report/preview.js";
import { encodePreviewPng } from "../../src/6-report/preview-png.js";
import { plane } from "../../src/core/plane.js";
import { prepare } from "../../src/index.js";
import { differenceFromGolden } from "../support/golden.js";

describe("preview", () => {
  it("keeps true proportions at 8 pixels per mm within its limits", () => {
    expect(previewSize(100, 50)).toEqual({ columns: 800, rows: 400 });
    expect(previewSize(600, 400)).toEqual({ columns: 1200, rows: 800 });
    expect(previewSize(10, 20)).toEqual({ columns: 320, rows: 640 });
  });

  it("paints ends in the material's colours and their middle by mixing light (sRGB, IEC 61966-2-1)", () => {
    const paint = materialPainter("#ffffff", "#000000", 0.6, 0.1);
    const out = new Uint8Array(9);
    paint(0.6, out, 0);
    paint(0.1, out, 3);
    paint(0.35, out, 6);
    expect([...out.subarray(0, 6)]).toEqual([255, 255, 255, 0, 0, 0]);
    // Half the light is code 187.5 (0.735357 × 255, check value srgb.encode.0.5).
    expect(Math.abs(out[6] - 187.5)).toBeLessThanOrEqual(0.5);
  });

  it("shows the crop's dots one screen pixel each, and a small piece's dots enlarged by a whole number", () => {
    // Room for a crop is 330 × 220, whole threes along each row.
    expect(blackPixels(390)).toBe((330 / 3) * 220);
    expect(blackPixels(90)).toBe(2 * 2 * (90 / 3) * 90);
  });

  /** Every third pixel of a square burns; the piece itself is mid-grey. */
  function blackPixels(side: number): number {
    const predicted = plane("luminance-factor", new Float32Array(side * side).fill(0.5), side, side);
    const bits = Uint8Array.from({ length: side * side }, (_, i) => (i % 3 === 0 ? 1 : 0));
    const paint = materialPainter("#ffffff", "#000000", 1, 0);
    const shown = plane("luminance-factor", new Float32Array(500 * 680).fill(0.5), 500, 680);
    const picture = composePreview({ piece: shown, predicted, bits, paint, bare: 1, marked: 0 });
    let black = 0;
    for (let at = 0; at < picture.rgb.length; at += 3) if (picture.rgb[at] === 0) black++;
    return black;
  }

  it("is a readable PNG of the picture's size and bytes", async () => {
    const rgb = Uint8Array.from({ length: 5 * 4 * 3 }, (_, i) => (i * 37) % 256);
    const png = PNG.sync.read(Buffer.from(await encodePreviewPng({ rgb, columns: 5, rows: 4 })));
    expect([png.width, png.height]).toEqual([5, 4]);
    const opaque = Array.from({ length: 20 }, (_, i) => [...rgb.subarray(3 * i, 3 * i + 3), 255]).flat();
    expect([...png.data]).toEqual(opaque);
  });

  it("golden (regression only): a ramp on slate and on maple", async () => {
    const ramp = new Uint8Array(60 * 20 * 3);
    for (let i = 0; i < 60 * 20; i++) ramp.fill(Math.round(((i % 60) * 255) / 59), 3 * i, 3 * i + 3);
    const photo = await encodePreviewPng({ rgb: ramp, columns: 60, rows: 20 });
    for (const material of ["slate", "maple"]) {
      const { previewFile } = await prepare(photo, {
        widthMm: 12,
        linesPerInch: 254,
        spotMm: 0.115,
        material,
        method: "floyd-steinberg",
      });
      if (!previewFile) throw new Error("no preview");
      expect(differenceFromGolden(`ramp-on-${material}`, previewFile)).toBe(0);
    }
  });
});
