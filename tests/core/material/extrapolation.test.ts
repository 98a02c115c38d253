import { describe, expect, it } from "vitest";
import { extrapolationOf } from "../../../src/core/material/extrapolation.js";
import { findMaterial } from "../../../src/core/material/material.js";
import { materialPresets } from "../../../src/core/material/material-presets.js";
import { createResponse } from "../../../src/core/material/response.js";
import { fillLuminance, lightness } from "./rippled-fills.js";

const straight = createResponse([
  [0, 0.7],
  [0.5, 0.5],
  [1, 0.3],
]);

describe("dose beyond the end of a response", () => {
  it("is told with the tone that the last slope would add, averaged over a fill: by brute force", () => {
    for (const pitchOverSpot of [0.8, 1, 1.3]) {
      const tone = (end: number) =>
        fillLuminance((dose) => Math.max(0, 0.7 - 0.4 * Math.min(end, dose)), 1, pitchOverSpot, 1);
      const added = lightness(tone(1)) - lightness(tone(9));
      const found = extrapolationOf(straight, pitchOverSpot);
      expect(found?.lightness).toBeCloseTo(added, 3);
      expect(found?.lastDose).toBe(1);
    }
    // Line centres of a fill at the matched pitch: √(8/π) · Σ exp(−8 k²) = 1.5969.
    const centres = Math.sqrt(8 / Math.PI) * (1 + 2 * Math.exp(-8));
    expect(extrapolationOf(straight, 1)?.peakDose).toBeCloseTo(centres, 9);
  });

  it("is none where no line centre gets as much", () => {
    const long = createResponse([
      [0, 0.7],
      [1.6, 0.1],
    ]);
    expect(extrapolationOf(long, 1)).toBeUndefined();
    expect(extrapolationOf(long, 1.1)).toMatchObject({ lastDose: 1.6 });
  });

  it("follows lines that do not add: four to a spot reach 0.53 with the exponent 2, and 1 if they add", () => {
    const short = createResponse([
      [0, 0.7],
      [0.6, 0.3],
    ]);
    expect(extrapolationOf(short, 0.25, 2)).toBeUndefined();
    expect(extrapolationOf(short, 0.25)).toBeDefined();
    // At the matched pitch lines hardly touch. Square root of summed squares on a line: √(8/π) · √(1 + 2 exp(−16)).
    const centres = Math.sqrt(8 / Math.PI) * Math.sqrt(1 + 2 * Math.exp(-16));
    expect(extrapolationOf(short, 1, 2)?.peakDose).toBeCloseTo(centres, 9);
  });

  it("counts for nothing where the tone has stopped changing", () => {
    const level = createResponse([
      [0, 0.7],
      [0.5, 0.3],
      [1, 0.3],
    ]);
    expect(extrapolationOf(level, 1)?.lightness).toBe(0);
  });

  it("does not go below black", () => {
    const black = createResponse([
      [0, 0.9],
      [1, 0.001],
    ]);
    // The fill's tone with the slope kept, down to 0.
    const kept = fillLuminance((dose) => Math.max(0, 0.9 - 0.899 * dose), 1, 1, 1);
    const constant = fillLuminance((dose) => 0.9 - 0.899 * Math.min(1, dose), 1, 1, 1);
    expect(extrapolationOf(black, 1)?.lightness).toBeCloseTo(lightness(constant) - lightness(kept), 3);
  });

  it("is next to nothing for every preset at the matched density, where the tables level off", () => {
    for (const { id } of materialPresets) {
      expect(extrapolationOf(findMaterial(id).curve, 1)?.lightness, id).toBeLessThan(0.5);
    }
  });
});
