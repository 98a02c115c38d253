import { describe, expect, it } from "vitest";
import { mostDetailed } from "../../../src/6-report/pictures/detail-crop.js";

const columns = 120;
const rows = 90;
const crop = { columns: 40, rows: 30 };

const picture = (value: (x: number, y: number) => number): Float32Array =>
  Float32Array.from({ length: columns * rows }, (_, i) => value(i % columns, Math.floor(i / columns)));

/** Checks of 5 × 5 pixels in a patch of the crop's size. */
const checked = (left: number, top: number) => (x: number, y: number) =>
  x >= left && x < left + crop.columns && y >= top && y < top + crop.rows
    ? 0.2 + 0.4 * ((Math.floor(x / 5) + Math.floor(y / 5)) % 2)
    : 0.4;

describe("the most detailed part of a picture", () => {
  it.each([
    [0, 0],
    [80, 60],
    [35, 20],
  ])("is a checked patch in a flat surface, at %d, %d", (left, top) => {
    expect(mostDetailed(picture(checked(left, top)), columns, rows, crop, 5)).toEqual({ left, top });
  });

  it("is not where halftone dots are: they even out within a cell", () => {
    const dots = picture((x, y) => (x < 60 ? (x + y) % 2 : checked(70, 40)(x, y)));
    const { left } = mostDetailed(dots, columns, rows, crop, 10);
    expect(left).toBeGreaterThanOrEqual(30);
  });

  it("has its detail in the middle, where the picture goes on", () => {
    const small = picture((x, y) => (x >= 60 && x < 70 && y >= 40 && y < 50 ? 0.1 : 0.4));
    expect(mostDetailed(small, columns, rows, crop, 5)).toEqual({ left: 45, top: 30 });
  });

  it("is the middle where nothing differs, and the whole where the crop is as large", () => {
    expect(
      mostDetailed(
        picture(() => 0.3),
        columns,
        rows,
        crop,
        5,
      ),
    ).toEqual({ left: 40, top: 30 });
    expect(mostDetailed(picture(checked(35, 20)), columns, rows, { columns, rows }, 5)).toEqual({
      left: 0,
      top: 0,
    });
  });

  it("lies within the picture where cells do not divide it", () => {
    const { left, top } = mostDetailed(picture(checked(80, 60)), columns, rows, crop, 7);
    expect(left + crop.columns).toBeLessThanOrEqual(columns);
    expect(top + crop.rows).toBeLessThanOrEqual(rows);
    expect(left).toBeGreaterThanOrEqual(70);
  });
});
