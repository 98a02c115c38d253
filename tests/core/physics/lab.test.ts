import { describe, expect, it } from "vitest";
import { labDistance, labFromSrgb } from "../../../src/core/physics/lab.js";

// B. Lindbloom, CIE colour calculator (sRGB, D65, no adaptation), as widely published for the primaries.
const PUBLISHED = [
  [
    [255, 255, 255],
    [100, 0, 0],
  ],
  [
    [255, 0, 0],
    [53.24, 80.09, 67.2],
  ],
  [
    [0, 255, 0],
    [87.73, -86.18, 83.18],
  ],
  [
    [0, 0, 255],
    [32.3, 79.19, -107.86],
  ],
  [
    [0, 0, 0],
    [0, 0, 0],
  ],
] as const;

describe("L*a*b* of sRGB", () => {
  it.each(PUBLISHED)("of %j is %j", ([red, green, blue], [lightness, a, b]) => {
    const lab = labFromSrgb(red, green, blue);
    expect(Math.abs(lab.lightness - lightness)).toBeLessThan(0.02);
    expect(Math.abs(lab.a - a)).toBeLessThan(0.05);
    expect(Math.abs(lab.b - b)).toBeLessThan(0.05);
  });

  it("is as far apart as its coordinates", () => {
    expect(labDistance({ lightness: 50, a: 3, b: 0 }, { lightness: 50, a: 0, b: 4 })).toBe(5);
  });
});
