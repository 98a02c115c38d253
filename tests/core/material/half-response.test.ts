import { describe, expect, it } from "vitest";
import { halfResponseDose } from "../../../src/core/material/half-response.js";
import { createResponse } from "../../../src/core/material/response.js";

describe("dose of half response", () => {
  it("is where a straight response has gone half its way, either polarity", () => {
    const fading = [0.8, 0.6, 0.4, 0.2].map((luminance, k) => [k / 3, luminance] as const);
    expect(halfResponseDose(createResponse(fading))).toBeCloseTo(0.5, 6);
    const rising = fading.map(([dose, luminance]) => [dose, 1 - luminance] as const);
    expect(halfResponseDose(createResponse(rising))).toBeCloseTo(0.5, 6);
  });

  it("counts from the bare surface to dose 1, not to what a stronger dose would do", () => {
    // Straight from 0.8 at dose 0 to 0.2 at dose 2: at dose 1 it is 0.5, half the way there at dose 0.5.
    const far = [0.8, 0.65, 0.5, 0.35, 0.2].map((luminance, k) => [k / 2, luminance] as const);
    expect(halfResponseDose(createResponse(far))).toBeCloseTo(0.5, 6);
  });
});
