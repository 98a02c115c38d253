import { describe, expect, it } from "vitest";
import { type FrameRequest, frameJob } from "../../src/3-resample/frame.js";
import { pitchMmFromLinesPerInch } from "../../src/core/units.js";

const square = (pitchMm: number) => ({ alongMm: pitchMm, acrossMm: pitchMm });
const at300 = square(pitchMmFromLinesPerInch(300));
const unequal = { alongMm: 0.05, acrossMm: 0.125 };

/** Mm of engraving per source pixel, along over across: 1 where the picture is not distorted. */
function distortion(request: FrameRequest): number {
  const { window, placement } = frameJob(request);
  const along = (placement.columns * request.pitch.alongMm) / window.width;
  const across = (placement.rows * request.pitch.acrossMm) / window.height;
  return along / across;
}

describe("size", () => {
  it("80 mm at 300 lines per inch is 944.882 lines, so 945, and 80.01 mm in truth", () => {
    const frame = frameJob({ sourceColumns: 3000, sourceRows: 2000, heightMm: 80, pitch: at300 });
    expect(frame.rows).toBe(945);
    expect(frame.heightMm).toBeCloseTo(80.01, 10);
    // 120 mm of width follow: 1417.32 pixels.
    expect(frame.columns).toBe(1417);
    expect(frame.widthMm).toBeCloseTo((1417 * 25.4) / 300, 10);
  });

  it("3000 pixels at 1000 per inch are 76.2 mm, and a picture that fits exactly is not cropped", () => {
    const pitch = square(0.0254);
    const frame = frameJob({ sourceColumns: 3000, sourceRows: 2000, widthMm: 76.2, pitch });
    expect([frame.columns, frame.rows]).toEqual([3000, 2000]);
    expect(frame.widthMm).toBeCloseTo(76.2, 10);
    expect(frame.window.left).toBeCloseTo(0, 9);
    expect(frame.window.top).toBeCloseTo(0, 9);
    expect(frame.window.width).toBeCloseTo(3000, 9);
    expect(frame.window.height).toBeCloseTo(2000, 9);
  });

  it("one size keeps the shape of the source on unequal pitches, whatever the fit", () => {
    for (const fit of [undefined, "cover", "contain", "stretch"] as const) {
      const source = { sourceColumns: 400, sourceRows: 300, pitch: unequal, fit };
      const byWidth = frameJob({ ...source, widthMm: 40 });
      const byHeight = frameJob({ ...source, heightMm: 30 });
      expect([byWidth.columns, byWidth.rows]).toEqual([800, 240]);
      expect(byHeight).toEqual(byWidth);
      // 33.33 mm × 25 mm: neither is a whole number of pixels, but nothing is distorted.
      expect(distortion({ ...source, widthMm: 100 / 3 })).toBeCloseTo(1, 12);
    }
  });

  it("is never less than one pixel", () => {
    const frame = frameJob({ sourceColumns: 5000, sourceRows: 10, widthMm: 0.4, pitch: square(0.1) });
    expect([frame.columns, frame.rows]).toEqual([4, 1]);
    expect(frame.heightMm).toBeCloseTo(0.1, 12);
  });
});

describe("cover", () => {
  it("crops the middle of what hangs over", () => {
    // Box 2:1 on a 400 × 300 source: the whole width, and 200 of 300 rows.
    const frame = frameJob({
      sourceColumns: 400,
      sourceRows: 300,
      widthMm: 40,
      heightMm: 20,
      pitch: square(0.1),
    });
    expect([frame.columns, frame.rows]).toEqual([400, 200]);
    expect(frame.window).toEqual({ left: 0, top: 50, width: 400, height: 200 });
    expect(frame.placement).toEqual({ left: 0, top: 0, columns: 400, rows: 200 });
    // Box 1:2: 150 of 400 columns.
    const tall = frameJob({
      sourceColumns: 400,
      sourceRows: 300,
      widthMm: 10,
      heightMm: 20,
      pitch: square(0.1),
    });
    expect(tall.window).toEqual({ left: 125, top: 0, width: 150, height: 300 });
  });

  it("takes the shape from the true size, so that nothing is distorted at all", () => {
    for (const [widthMm, heightMm] of [
      [31.37, 22.91],
      [3.33, 17.77],
      [0.26, 0.31],
      [80, 80],
    ]) {
      for (const pitch of [at300, unequal, { alongMm: 0.115, acrossMm: 0.0254 }]) {
        const request = { sourceColumns: 641, sourceRows: 487, widthMm, heightMm, pitch };
        const { window, columns, rows } = frameJob(request);
        expect(distortion(request)).toBeCloseTo(1, 12);
        expect(window.width / window.height).toBeCloseTo(
          (columns * pitch.alongMm) / (rows * pitch.acrossMm),
          10,
        );
        expect(Math.max(window.width / 641, window.height / 487)).toBe(1);
        expect(window.left).toBeCloseTo((641 - window.width) / 2, 12);
        expect(window.top).toBeCloseTo((487 - window.height) / 2, 12);
      }
    }
  });

  it("works on a single pixel", () => {
    const frame = frameJob({ sourceColumns: 1, sourceRows: 1, widthMm: 10, heightMm: 1, pitch: square(0.1) });
    expect([frame.columns, frame.rows]).toEqual([100, 10]);
    expect(frame.window.width).toBe(1);
    expect(frame.window.height).toBeCloseTo(0.1, 12);
    expect(frame.window.top).toBeCloseTo(0.45, 12);
  });
});

describe("contain", () => {
  it("shows all of the picture in the middle of the box", () => {
    const job = { widthMm: 40, heightMm: 20, fit: "contain" as const };
    const frame = frameJob({ sourceColumns: 400, sourceRows: 300, ...job, pitch: square(0.1) });
    // 20 mm high, so 26.67 mm wide: 267 of 400 columns, 66 bare on the left and 67 on the right.
    expect([frame.columns, frame.rows]).toEqual([400, 200]);
    expect(frame.window).toEqual({ left: 0, top: 0, width: 400, height: 300 });
    expect(frame.placement).toEqual({ left: 66, top: 0, columns: 267, rows: 200 });
    // Pitches of 0.05 and 0.125 mm: a box of 800 × 160, the picture 533.3 columns wide.
    const stretched = frameJob({ sourceColumns: 400, sourceRows: 300, ...job, pitch: unequal });
    expect([stretched.columns, stretched.rows]).toEqual([800, 160]);
    expect(stretched.placement).toEqual({ left: 133, top: 0, columns: 533, rows: 160 });
    // A panorama in the same box: 40 mm wide, 4 mm high.
    const wide = frameJob({ sourceColumns: 1000, sourceRows: 100, ...job, pitch: unequal });
    expect(wide.placement).toEqual({ left: 0, top: 64, columns: 800, rows: 32 });
  });

  it("touches the box and is distorted by no more than half a pixel", () => {
    for (const [widthMm, heightMm] of [
      [31.37, 22.91],
      [3.33, 17.77],
      [80, 80],
    ]) {
      for (const pitch of [at300, unequal]) {
        const request = {
          sourceColumns: 641,
          sourceRows: 487,
          widthMm,
          heightMm,
          fit: "contain" as const,
          pitch,
        };
        const { columns, rows, placement } = frameJob(request);
        expect(placement.columns === columns || placement.rows === rows).toBe(true);
        const loose = placement.columns === columns ? placement.rows : placement.columns;
        expect(Math.abs(Math.log(distortion(request)))).toBeLessThanOrEqual(
          Math.log((loose + 0.5) / loose) * 1.01,
        );
        for (const bare of [
          columns - placement.columns - 2 * placement.left,
          rows - placement.rows - 2 * placement.top,
        ]) {
          expect([0, 1]).toContain(bare);
        }
      }
    }
  });

  it("keeps one pixel of a picture far thinner than the box", () => {
    const job = { widthMm: 10, heightMm: 10, fit: "contain" as const, pitch: square(0.1) };
    const frame = frameJob({ sourceColumns: 90000, sourceRows: 2, ...job });
    expect(frame.placement).toEqual({ left: 0, top: 49, columns: 100, rows: 1 });
  });
});

describe("stretch", () => {
  it("lays all of the source on all of the box", () => {
    const job = { widthMm: 40, heightMm: 20, fit: "stretch" as const, pitch: unequal };
    const frame = frameJob({ sourceColumns: 400, sourceRows: 300, ...job });
    expect([frame.columns, frame.rows]).toEqual([800, 160]);
    expect(frame.window).toEqual({ left: 0, top: 0, width: 400, height: 300 });
    expect(frame.placement).toEqual({ left: 0, top: 0, columns: 800, rows: 160 });
    // 40 mm for 400 columns against 20 mm for 300 rows.
    expect(distortion({ sourceColumns: 400, sourceRows: 300, ...job })).toBeCloseTo(1.5, 12);
  });
});
