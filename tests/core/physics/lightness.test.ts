import { describe, expect, it } from "vitest";
import {
  lightnessFromLuminance,
  lightnessSlope,
  luminanceFromLightness,
} from "../../../src/core/physics/lightness.js";

describe("lightness", () => {
  it("runs from 0 for black to 100 for white", () => {
    expect(lightnessFromLuminance(0)).toBe(0);
    expect(lightnessFromLuminance(1)).toBe(100);
    expect(luminanceFromLightness(0)).toBe(0);
    expect(luminanceFromLightness(100)).toBe(1);
  });

  it("returns through its inverse on both branches", () => {
    for (let lightness = 0; lightness <= 100; lightness += 0.03125) {
      expect(lightnessFromLuminance(luminanceFromLightness(lightness))).toBeCloseTo(lightness, 11);
    }
  });

  it("has the slope of its differences on both branches", () => {
    for (const luminance of [0.001, 0.005, 0.02, 0.2, 0.9]) {
      const by = luminance * 1e-5;
      const rise = lightnessFromLuminance(luminance + by) - lightnessFromLuminance(luminance - by);
      expect(lightnessSlope(luminance) / (rise / (2 * by))).toBeCloseTo(1, 7);
    }
  });

  it("has no step at the knee, where the rounded constants of older texts have one", () => {
    const knee = 216 / 24389;
    const below = lightnessFromLuminance(knee);
    const above = lightnessFromLuminance(knee * (1 + 1e-12));
    expect(below).toBeCloseTo(8, 12);
    expect(Math.abs(above - below)).toBeLessThan(1e-10);
  });
});
