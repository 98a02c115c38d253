import { describe, expect, it } from "vitest";
import * as units from "../../src/core/units.js";

describe("units", () => {
  it.each([0.115, 0.1, 0.0847, 3])("densities and pitches of %f mm return", (pitchMm) => {
    expect(units.pitchMmFromLinesPerInch(units.linesPerInchFromPitchMm(pitchMm))).toBeCloseTo(pitchMm, 14);
    expect(units.pitchMmFromLinesPerMm(units.linesPerMmFromPitchMm(pitchMm))).toBeCloseTo(pitchMm, 14);
    expect(units.fwhmMmFromSpotDiameterMm(units.spotDiameterMmFromFwhmMm(pitchMm))).toBeCloseTo(pitchMm, 14);
  });

  it("an inch is 25.4 mm in every function that knows it", () => {
    expect(units.mmFromInches(2)).toBe(50.8);
    expect(units.mmFromCm(2.54)).toBeCloseTo(units.mmFromInches(1), 14);
    expect(units.linesPerInchFromPitchMm(0.1)).toBeCloseTo(254, 12);
    expect(units.pitchMmFromLinesPerMm(10)).toBe(0.1);
  });

  it("speeds and accelerations return from every unit", () => {
    for (const unit of ["mm/s", "mm/min", "cm/s", "m/min", "in/s", "in/min"] as const) {
      expect(units.mmPerSFrom(units.speedFromMmPerS(123.4, unit), unit)).toBeCloseTo(123.4, 10);
    }
    for (const unit of ["mm/s²", "m/s²", "in/s²"] as const) {
      expect(units.mmPerS2From(units.accelerationFromMmPerS2(4321, unit), unit)).toBeCloseTo(4321, 9);
    }
    // 60 s a minute, 25.4 mm an inch, 1000 mm a metre.
    expect(units.speedFromMmPerS(25.4, "in/min")).toBe(60);
    expect(units.mmPerSFrom(6000, "mm/min")).toBe(100);
    expect(units.accelerationFromMmPerS2(9810, "m/s²")).toBe(9.81);
    expect(units.inchesFromMm(101.6)).toBe(4);
  });

  // 1.699: engraving practice quotes it; √(2/ln 2) = 1.69864 by exp(−8 r²/d²) = 1/2.
  it("the profile is at half its height one FWHM/2 from the centre", () => {
    const diameterMm = units.spotDiameterMmFromFwhmMm(0.1);
    expect(diameterMm).toBeCloseTo(0.1699, 4);
    expect(Math.exp(-8 * (0.05 / diameterMm) ** 2)).toBeCloseTo(0.5, 12);
    expect(Math.exp(-((0.05 / units.sigmaMmFromSpotDiameterMm(diameterMm)) ** 2) / 2)).toBeCloseTo(0.5, 12);
    const oneOverEMm = units.oneOverEDiameterMmFromSpotDiameterMm(diameterMm);
    expect(Math.exp(-8 * (oneOverEMm / 2 / diameterMm) ** 2)).toBeCloseTo(1 / Math.E, 12);
  });

  it("a density survives a file that stores whole pixels per metre to half a pixel per metre", () => {
    for (let linesPerInch = 50; linesPerInch <= 2000; linesPerInch += 7) {
      const stored = units.pixelsPerMetreFromPitchMm(units.pitchMmFromLinesPerInch(linesPerInch));
      expect(Number.isInteger(stored)).toBe(true);
      const read = units.linesPerInchFromPitchMm(units.pitchMmFromPixelsPerMetre(stored));
      expect(Math.abs(read - linesPerInch)).toBeLessThanOrEqual(0.5 * 0.0254 + 1e-9);
    }
  });

  it("angles and times", () => {
    expect(units.radiansFromDegrees(180)).toBe(Math.PI);
    expect(units.radiansFromArcminutes(60)).toBeCloseTo(Math.PI / 180, 15);
    expect(units.arcminutesFromRadians(Math.PI)).toBeCloseTo(180 * 60, 9);
    expect(units.secondsFromMicroseconds(250)).toBeCloseTo(0.00025, 15);
  });
});
