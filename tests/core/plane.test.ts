import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { columnsOf, denseData, plane, rowsOf } from "../../src/core/plane.js";
import { refusalOf } from "../support/refusal.js";

const data = Float32Array.of(1, 2, 3, 4, 5, 6);

describe("plane", () => {
  it("has rows before columns, and a pitch only where it has one", () => {
    const flat = plane("luminance", data, 2, 3);
    expect([rowsOf(flat), columnsOf(flat)]).toEqual([2, 3]);
    expect(flat.pixels.get(1, 0)).toBe(4);
    expect("pitch" in flat).toBe(false);
    const pitch = { alongMm: 0.1, acrossMm: 0.2 };
    expect(plane("luminance", data, 2, 3, pitch).pitch).toBe(pitch);
  });

  it("refuses data of another length", () => {
    expect(refusalOf(() => plane("luminance", data, 2, 2)).code).toBe("INTERNAL");
  });

  it("hands out its own data when they lie densely", () => {
    expect(denseData(plane("luminance", data, 2, 3))).toBe(data);
  });

  it.each([
    ["a transpose", ndarray(data, [3, 2], [1, 3]), [1, 4, 2, 5, 3, 6]],
    ["a crop", ndarray(data, [2, 2], [3, 1], 1), [2, 3, 5, 6]],
    ["rows in reverse", ndarray(data, [2, 3], [-3, 1], 3), [4, 5, 6, 1, 2, 3]],
    ["the first row alone", ndarray(data, [1, 3], [3, 1]), [1, 2, 3]],
  ])("copies %s into dense rows", (_, pixels, expected) => {
    expect([...denseData({ space: "luminance", pixels })]).toEqual(expected);
  });

  it("keeps the kind of number", () => {
    const bits = ndarray(Uint8Array.of(1, 0, 0, 1), [2, 2], [1, 2]);
    expect(denseData({ space: "bitmap", pixels: bits })).toBeInstanceOf(Uint8Array);
    const codes = ndarray(Uint16Array.of(1, 0, 65535, 1), [2, 2], [1, 2]);
    expect([...denseData({ space: "opacity", pixels: codes })]).toEqual([1, 65535, 0, 1]);
  });
});
