import { describe, expect, it } from "vitest";
import {
  linearFromSrgb,
  luminanceFromLinearRgb,
  reflectionDensity,
  srgbFromLinear,
} from "../../../src/core/physics/transfer.js";

describe("transfer", () => {
  it("runs from 0 to 1 and rises with every 16-bit code", () => {
    expect(linearFromSrgb(0)).toBe(0);
    expect(linearFromSrgb(1)).toBe(1);
    let falls = 0;
    for (let code = 1; code <= 65535; code++) {
      if (linearFromSrgb(code / 65535) <= linearFromSrgb((code - 1) / 65535)) falls++;
    }
    expect(falls).toBe(0);
  });

  it("returns every 8-bit and 16-bit code", () => {
    for (const top of [255, 65535]) {
      let wrong = 0;
      for (let code = 0; code <= top; code++) {
        if (Math.round(srgbFromLinear(linearFromSrgb(code / top)) * top) !== code) wrong++;
      }
      expect(wrong).toBe(0);
    }
  });

  it("neutral light keeps its luminance", () => {
    for (const light of [0, 0.18, 1])
      expect(luminanceFromLinearRgb(light, light, light)).toBeCloseTo(light, 15);
  });

  it("density is 0 for a perfect white and without bound for black", () => {
    expect(Math.abs(reflectionDensity(1))).toBe(0);
    expect(reflectionDensity(0.01)).toBeCloseTo(2, 14);
    expect(reflectionDensity(0)).toBe(Number.POSITIVE_INFINITY);
  });
});
