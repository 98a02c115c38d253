import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import { encodePreviewPng } from "../../../src/6-report/files/preview-png.js";
import { materialPainter } from "../../../src/6-report/pictures/appearance.js";
import {
  barLengthMm,
  composePreview,
  type PreviewCrop,
  previewSize,
  type RgbPicture,
} from "../../../src/6-report/pictures/preview.js";
import type { PixelRectangle } from "../../../src/core/pixel-rectangle.js";
import { plane } from "../../../src/core/plane.js";
import { differenceFromGolden } from "../../support/golden.js";
import { prepare } from "../../support/prepare.js";

describe("preview", () => {
  it("shows whole burn pixels to each screen pixel, or the other way round, near 8 pixels per mm", () => {
    expect(previewSize(80, 53.4, 800, 534)).toEqual({ columns: 800, rows: 534 });
    expect(previewSize(100, 60, 2000, 1200)).toEqual({ columns: 667, rows: 400 });
    expect(previewSize(20, 20, 230, 230)).toEqual({ columns: 460, rows: 460 });
    expect(previewSize(600, 400, 12000, 8000)).toEqual({ columns: 1200, rows: 800 });
    // Twice as many pixels along as across.
    expect(previewSize(60, 30, 1200, 300)).toEqual({ columns: 600, rows: 300 });
  });

  it.each([
    [20, 20],
    [100, 66],
    [300, 40],
    [40, 300],
    [1000, 500],
  ])("%d × %d mm: no beating at any density, true proportions, a handy size", (widthMm, heightMm) => {
    for (const perMm of [3, 5.9, 8.7, 10, 11.5, 20, 40]) {
      const burn = [Math.round(widthMm * perMm), Math.round(heightMm * perMm)] as const;
      const { columns, rows } = previewSize(widthMm, heightMm, ...burn);
      for (const ratio of [burn[0] / columns, burn[1] / rows]) {
        const whole = ratio >= 1 ? ratio : 1 / ratio;
        // Rounding to whole pixels may shift by half a pixel over the entire picture.
        expect(Math.abs(whole - Math.round(whole)) * Math.min(columns, rows)).toBeLessThanOrEqual(whole);
      }
      expect(Math.abs(columns / rows / (widthMm / heightMm) - 1)).toBeLessThan(0.02);
      expect(Math.max(columns, rows)).toBeGreaterThanOrEqual(280);
      expect(Math.max(columns, rows)).toBeLessThanOrEqual(2400);
    }
  });

  it("keeps true proportions where the pitches allow no whole numbers", () => {
    // 12 pixels per mm along and 5 lines across: no whole multiples of the two are nearly equal below 60 per mm.
    expect(previewSize(60, 40, 720, 200)).toEqual({ columns: 560, rows: 373 });
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

  it("shows burn pixels in black on white, three screen pixels each, and a small piece's larger", () => {
    // The strip's two panels share 640 − 24 screen pixels; they are 240 high.
    const large = blackAndWhite(390);
    expect(large.all).toBe(308 * 240);
    expect(Math.abs(large.black - (308 * 240) / 3)).toBeLessThanOrEqual(3 * 240);
    // Whole: 240 / 60 = 4 screen pixels for each.
    expect(blackAndWhite(60)).toEqual({ all: 240 * 240, black: (240 * 240) / 3 });
  });

  it("shows pixels that are wider than long in their shape", () => {
    const picture = composed(200, 100, 20, 20);
    // Three by six: the panel is 308 × 240 of 600 × 600.
    expect(count(picture, 0xff) + count(picture, 0)).toBe(308 * 240);
  });

  /** Pixels of the black-and-white panel, and the black ones among them. */
  function blackAndWhite(side: number): { all: number; black: number } {
    const picture = composed(side, side, side / 10, side / 10);
    const black = count(picture, 0);
    return { all: black + count(picture, 0xff), black };
  }

  /** Every third pixel of a row burns; the piece itself is flat grey, painted neither black nor white. */
  function composed(columns: number, rows: number, widthMm: number, heightMm: number) {
    const crop = ({ left, ...part }: PixelRectangle): PreviewCrop => ({
      pixels: Uint8Array.from({ length: part.columns * part.rows }, (_, i) =>
        (left + (i % part.columns)) % 3 === 0 ? 1 : 0,
      ),
      predicted: new Float32Array(part.columns * part.rows).fill(0.5),
    });
    const paint = materialPainter("#c0c0c0", "#303030", 1, 0);
    const shown = plane("luminance-factor", new Float32Array(500 * 500).fill(0.5), 500, 500);
    return composePreview({
      piece: shown,
      burnColumns: columns,
      burnRows: rows,
      levels: 2,
      crop,
      paint,
      widthMm,
      heightMm,
    });
  }

  /** Pixels of one grey below the piece, outside the dashed frame. */
  function count({ rgb, columns }: RgbPicture, code: number): number {
    let found = 0;
    for (let at = 3 * columns * (500 + 2 * 24); at < rgb.length; at += 3) if (rgb[at] === code) found++;
    return found;
  }

  it.each([
    ["where the picture has detail", undefined],
    ["not in a border round the picture", { left: 40, top: 40, columns: 320, rows: 320 }],
  ])("marks on the piece where the strip was taken: %s", (_, within) => {
    const side = 400;
    // A chequered patch of 48 × 48 pixels in a flat surface, low and right of the middle, and a stronger patch in the border.
    const value = (x: number, y: number) => {
      const checked = ((x >> 3) + (y >> 3)) % 2 === 0;
      if (within && x < 39 && y < 200) return checked ? 0.01 : 0.5;
      return x >= 280 && x < 328 && y >= 240 && y < 288 && checked ? 0.1 : 0.5;
    };
    const data = Float32Array.from({ length: side * side }, (_, i) => value(i % side, Math.floor(i / side)));
    const picture = composePreview({
      piece: plane("luminance-factor", data, side, side),
      burnColumns: side,
      burnRows: side,
      levels: 2,
      picture: within,
      crop: ({ columns, rows }) => ({
        pixels: new Uint8Array(columns * rows),
        predicted: new Float32Array(columns * rows).fill(0.5),
      }),
      paint: materialPainter("#c0c0c0", "#303030", 0.5, 0.1),
      widthMm: 40,
      heightMm: 40,
    });
    const dashed: [number, number][] = [];
    const pieceLeft = 24 + (640 - side) / 2;
    for (let y = 0; y < side; y++) {
      for (let x = 0; x < side; x++) {
        const code = picture.rgb[3 * ((24 + y) * picture.columns + pieceLeft + x)];
        if (code === 0 || code === 0xff) dashed.push([x, y]);
      }
    }
    const xs = dashed.map(([x]) => x);
    const ys = dashed.map(([, y]) => y);
    // 308 / 3 × 240 / 3 burn pixels, with the frame round them.
    expect(Math.max(...xs) - Math.min(...xs) + 1).toBe(103 + 2);
    expect(Math.max(...ys) - Math.min(...ys) + 1).toBe(80 + 2);
    expect(Math.min(...xs)).toBeLessThan(280);
    expect(Math.max(...xs)).toBeGreaterThan(327);
    expect(Math.min(...ys)).toBeLessThan(240);
    expect(Math.max(...ys)).toBeGreaterThan(287);
  });

  it.each([
    [8, 10],
    [10, 10],
    [11, 5],
    [23, 2],
    [40, 2],
    [100, 1],
    [120, 0.5],
    [3.9, 20],
    [0.9, 100],
  ])(
    "at %d pixels per mm a scale bar is %d mm long: the longest of 1, 2, 5 … below 100 pixels",
    (pxPerMm, mm) => {
      expect(barLengthMm(pxPerMm)).toBe(mm);
    },
  );

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
