import { describe, expect, it } from "vitest";
import { cropRectangle, focusWithin } from "../../src/3-resample/crop.js";
import { frameJob } from "../../src/3-resample/frame.js";
import { SpotpitchError } from "../../src/core/errors.js";

const pitch = { alongMm: 0.1, acrossMm: 0.1 };

describe("a crop", () => {
  it("is all of the photo where nothing is asked for", () => {
    expect(cropRectangle(undefined, 640, 480)).toEqual({ left: 0, top: 0, columns: 640, rows: 480 });
  });

  it("lies on whole pixels of the photo", () => {
    // 10 % and 90 % of 1023 are 102.3 and 920.7; 5 % and 65 % of 777 are 38.85 and 505.05.
    const percent = { leftPercent: 10, topPercent: 5, widthPercent: 80, heightPercent: 60 };
    expect(cropRectangle(percent, 1023, 777)).toEqual({ left: 102, top: 39, columns: 819, rows: 466 });
    const px = { leftPx: 12, topPx: 7, widthPx: 100, heightPx: 50 };
    expect(cropRectangle(px, 1023, 777)).toEqual({ left: 12, top: 7, columns: 100, rows: 50 });
  });

  it("may be as small as a pixel, at any edge", () => {
    const sliver = { leftPercent: 99.99, topPercent: 0, widthPercent: 0.01, heightPercent: 0.01 };
    expect(cropRectangle(sliver, 200, 100)).toEqual({ left: 199, top: 0, columns: 1, rows: 1 });
  });

  it("may fill the photo, sums of percentages being what they are", () => {
    const third = 100 / 3;
    const right = { leftPercent: 2 * third, topPercent: 29.7, widthPercent: third, heightPercent: 70.3 };
    expect(cropRectangle(right, 3000, 1000)).toEqual({ left: 2000, top: 297, columns: 1000, rows: 703 });
  });

  it.each([
    { leftPx: 600, topPx: 0, widthPx: 41, heightPx: 480 },
    { leftPx: -1, topPx: 0, widthPx: 41, heightPx: 480 },
    { leftPx: 0, topPx: 400, widthPx: 41, heightPx: 81 },
    { leftPercent: 50, topPercent: 0, widthPercent: 51, heightPercent: 100 },
    { leftPercent: 0, topPercent: -5, widthPercent: 50, heightPercent: 100 },
  ])("that reaches outside is refused with the photo's size: %j", (crop) => {
    const attempt = () => cropRectangle(crop, 640, 480);
    expect(attempt).toThrow(SpotpitchError);
    expect(attempt).toThrow(/640 × 480/);
    expect(attempt).toThrow(expect.objectContaining({ code: "OPTION_OUTSIDE_PHOTO", option: "crop" }));
  });
});

describe("a focus", () => {
  const whole = { left: 0, top: 0, columns: 400, rows: 200 };
  const square = { sourceColumns: 400, sourceRows: 200, widthMm: 20, heightMm: 20, pitch };

  /** Worked by hand: of 400 × 200 a square shows 200 × 200, whose left edge may lie from 0 to 200. */
  it.each([
    [50, 100],
    [40, 60],
    [25, 0],
    [10, 0],
    [62.5, 150],
    [90, 200],
  ])("at %f %% puts the window at %f", (xPercent, left) => {
    const focus = focusWithin({ xPercent, yPercent: 30 }, whole, 400, 200);
    expect(frameJob({ ...square, focus }).window).toEqual({ left, top: 0, width: 200, height: 200 });
  });

  it("moves the window the other way for a tall piece", () => {
    // A piece four times as wide as high shows 400 × 100 of it: about y = 60 that is 10 to 110.
    const focus = focusWithin({ xPx: 7, yPx: 60 }, whole, 400, 200);
    const wide = frameJob({ ...square, widthMm: 40, heightMm: 10, focus });
    expect(wide.window).toEqual({ left: 0, top: 10, width: 400, height: 100 });
  });

  it("counts from the corner of the whole photo, whatever was cropped", () => {
    const kept = { left: 100, top: 20, columns: 200, rows: 100 };
    expect(focusWithin({ xPx: 130, yPx: 70 }, kept, 400, 200)).toEqual({ x: 30, y: 50 });
    expect(focusWithin({ xPercent: 50, yPercent: 25 }, kept, 400, 200)).toEqual({ x: 100, y: 30 });
  });

  it("outside the photo, or what is kept of it, is refused with the sizes", () => {
    expect(() => focusWithin({ xPx: 401, yPx: 0 }, whole, 400, 200)).toThrow(/photo, which has 400 × 200/);
    const kept = { left: 100, top: 20, columns: 200, rows: 100 };
    expect(() => focusWithin({ xPx: 50, yPx: 50 }, kept, 400, 200)).toThrow(/200 × 100 .* 400 × 200/);
    expect(() => focusWithin({ xPx: 50, yPx: 50 }, kept, 400, 200)).toThrow(
      expect.objectContaining({ code: "OPTION_OUTSIDE_PHOTO", option: "focus" }),
    );
  });

  it("changes nothing where nothing has to be cut", () => {
    const focus = { x: 10, y: 10 };
    const { heightMm: _, ...byWidth } = square;
    expect(frameJob({ ...byWidth, focus })).toEqual(frameJob(byWidth));
    for (const fit of ["contain", "stretch"] as const) {
      expect(frameJob({ ...square, fit, focus })).toEqual(frameJob({ ...square, fit }));
    }
  });
});
