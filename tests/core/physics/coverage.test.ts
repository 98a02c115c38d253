import { describe, expect, it } from "vitest";
import * as coverage from "../../../src/core/physics/coverage.js";

/** Mean over a cell of a function of the number of discs that reach each point, on a fine grid of points. */
function cellMean(diameter: number, along: number, across: number, value: (discs: number) => number): number {
  const samples = 400;
  const reachX = Math.ceil(diameter / along) + 1;
  const reachY = Math.ceil(diameter / across) + 1;
  let sum = 0;
  for (let j = 0; j < samples; j++) {
    for (let i = 0; i < samples; i++) {
      const x = ((i + 0.5) / samples) * along;
      const y = ((j + 0.5) / samples) * across;
      let discs = 0;
      for (let v = -reachY; v <= reachY; v++) {
        for (let u = -reachX; u <= reachX; u++) {
          if ((x - u * along) ** 2 + (y - v * across) ** 2 < (diameter / 2) ** 2) discs++;
        }
      }
      sum += value(discs);
    }
  }
  return sum / samples ** 2;
}

describe("coverage", () => {
  it.each([
    [0.09, 0.1, 0.1],
    [0.13, 0.1, 0.1],
    [0.115, 0.1, 0.125],
    [0.115, 0.125, 0.1],
    [0.115, 0.05, 0.125],
    [0.12, 0.11, 0.06],
    [0.2, 0.1, 0.1],
  ])("discs of %f mm at %f x %f mm cover what a count of points says", (diameter, along, across) => {
    const counted = cellMean(diameter, along, across, (discs) => (discs > 0 ? 1 : 0));
    expect(Math.abs(coverage.discCoverage(diameter, along, across) - counted)).toBeLessThan(1e-3);
  });

  it.each([
    [0.09, 0.3],
    [0.115, 0.5],
    [0.14, 0.8],
  ])(
    "a random tint of %f mm discs at fraction %f covers what a count of points says",
    (diameter, fraction) => {
      const counted = cellMean(diameter, 0.1, 0.1, (discs) => 1 - (1 - fraction) ** discs);
      expect(Math.abs(coverage.randomTintCoverage(diameter, 0.1, fraction) - counted)).toBeLessThan(1e-3);
    },
  );

  it("a random tint of larger discs is not claimed", () => {
    expect(coverage.randomTintCoverage(0.15, 0.1, 0.5)).toBeNaN();
  });

  it("the common area is all of a disc at no distance and none past its diameter", () => {
    expect(coverage.commonDiscAreaMm2(0.115, 0)).toBeCloseTo(coverage.discAreaMm2(0.115), 15);
    expect(coverage.commonDiscAreaMm2(0.115, 0.115)).toBe(0);
    expect(coverage.commonDiscAreaMm2(0.115, 0.2)).toBe(0);
  });

  it("one step below the gap-free pitch covers all, one above does not", () => {
    const pitchMm = coverage.gapFreeDiscPitchMm(0.115);
    expect(coverage.discCoverage(0.115, pitchMm * 0.9999, pitchMm * 0.9999)).toBe(1);
    expect(coverage.discCoverage(0.115, pitchMm * 1.01, pitchMm * 1.01)).toBeLessThan(1);
  });

  // Common practice, no source: 0.115 mm marks leave bare lines at 150 per inch and none from 225 to 800.
  it("lines of 0.115 mm gap at 150 per inch and close from 225", () => {
    expect(coverage.gapMm(25.4 / 150, 0.115)).toBeGreaterThan(0);
    expect(coverage.lineCoverage(25.4 / 150, 0.115)).toBeLessThan(1);
    for (const linesPerInch of [225, 300, 800]) {
      expect(coverage.gapMm(25.4 / linesPerInch, 0.115)).toBe(0);
      expect(coverage.lineCoverage(25.4 / linesPerInch, 0.115)).toBe(1);
    }
  });

  it("a detail shows one level more than it has pixels", () => {
    expect(coverage.addressableLevels(0.25 ** 2, 0.1, 0.05)).toBeCloseTo(13.5, 12);
  });

  it("an isolated pixel's mark is counted against a pixel of unequal sides", () => {
    // Stadium 0.1 long and 0.08 wide: 0.008 + π·0.0016 mm², over a pixel of 0.1 × 0.05 mm.
    expect(coverage.isolatedPixelMarkRatio(0.08, 0.1, 0.05)).toBeCloseTo(
      (0.008 + Math.PI * 0.0016) / 0.005,
      12,
    );
  });
});
