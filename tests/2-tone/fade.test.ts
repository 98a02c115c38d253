import { describe, expect, it } from "vitest";
import { layOverBare, liftFromBare } from "../../src/2-tone/cut-out.js";
import { fadeRow } from "../../src/2-tone/fade.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../src/core/physics/lightness.js";
import { BORDER } from "../../src/core/picture-edge.js";

const lightness = { of: lightnessFromLuminance, luminanceOf: luminanceFromLightness };

describe("fading to the bare surface", () => {
  it("keeps as much of the difference in L* as the share says, on light and on dark", () => {
    // L* 50 is Y = 0.1842 (CIE 15): half-way to white lies L* 75, half-way to black L* 25.
    const half = Float32Array.of(0.5, 0.5);
    const row = Float32Array.of(0.184187, 0.184187);
    fadeRow(row, half, 1, lightness);
    expect(lightnessFromLuminance(row[0])).toBeCloseTo(75, 3);
    const dark = Float32Array.of(0.184187, 0.184187);
    fadeRow(dark, half, 0, lightness);
    expect(lightnessFromLuminance(dark[1])).toBeCloseTo(25, 3);
  });

  it("takes even steps of L* along an even ramp", () => {
    const count = 101;
    const shares = Float32Array.from({ length: count }, (_, i) => i / 100);
    for (const bare of [0, 1] as const) {
      const row = new Float32Array(count).fill(0.3);
      fadeRow(row, shares, bare, lightness);
      const steps = [...row]
        .slice(1)
        .map((y, i) => lightnessFromLuminance(y) - lightnessFromLuminance(row[i]));
      for (const step of steps) expect(step).toBeCloseTo(steps[0], 4);
    }
  });

  it("is exactly bare at 0, untouched at 1, and solid in the border", () => {
    for (const bare of [0, 1] as const) {
      const row = Float32Array.of(0.4, 0.4, 0.4);
      fadeRow(row, Float32Array.of(0, 1, BORDER), bare, lightness);
      expect([...row]).toEqual([bare, Math.fround(0.4), 1 - bare]);
    }
  });
});

describe("a cut-out", () => {
  it("comes back as it was, lifted from the surface and laid over it", () => {
    const coverage = Float32Array.of(1, 0.75, 0.5, 0.01, 0);
    for (const bare of [0, 1] as const) {
      const over = Float32Array.from(coverage, (share) => bare + (0.6 - bare) * share);
      const row = over.slice();
      liftFromBare(row, coverage, bare);
      for (let x = 0; x < 4; x++) expect(row[x]).toBeCloseTo(0.6, 5);
      layOverBare(row, coverage, bare);
      row.forEach((value, x) => {
        expect(value).toBeCloseTo(over[x], 6);
      });
    }
  });

  it("is bare where it covers nothing, whatever the filter left there", () => {
    const row = Float32Array.of(0.97);
    layOverBare(row, Float32Array.of(0), 1);
    expect(row[0]).toBe(1);
  });
});
