import { describe, expect, it } from "vitest";
import * as optics from "../../../src/core/physics/optics.js";

const lens = { propagationRatio: 1.2, wavelengthMm: 0.0106, focalLengthMm: 63.5 };

/**
 * Diameter of the circle of least confusion of a plano-convex lens, curved side to a collimated beam,
 * by Snell's law at a sphere and at a plane, with no small-angle step.
 */
function tracedBlurMm(index: number, focalLengthMm: number, inputDiameterMm: number): number {
  const radiusMm = focalLengthMm * (index - 1);
  const edgeSagMm = radiusMm - Math.sqrt(radiusMm ** 2 - (inputDiameterMm / 2) ** 2);
  const thicknessMm = edgeSagMm * 1.01;
  const rays: { height: number; slope: number }[] = [];
  for (let i = 1; i <= 200; i++) {
    const height = (inputDiameterMm / 2) * (i / 200);
    const incidence = Math.asin(height / radiusMm);
    const inside = incidence - Math.asin(Math.sin(incidence) / index);
    const sag = radiusMm - Math.sqrt(radiusMm ** 2 - height ** 2);
    const outside = Math.asin(index * Math.sin(inside));
    rays.push({ height: height - (thicknessMm - sag) * Math.tan(inside), slope: Math.tan(outside) });
  }
  let least = Number.POSITIVE_INFINITY;
  const start = focalLengthMm * 0.97;
  for (let step = 0; step <= 20000; step++) {
    const z = start + (focalLengthMm - start) * (step / 20000);
    const reach = Math.max(...rays.map(({ height, slope }) => Math.abs(height - slope * z)));
    least = Math.min(least, reach);
  }
  return 2 * least;
}

describe("optics", () => {
  it("third-order aberration agrees with an exact ray trace at f/12.7", () => {
    const coefficient = optics.aberrationCoefficient(2.40278, 1);
    const formulaMm = optics.aberrationBlurMm(coefficient, 5, 63.5);
    expect(Math.abs(tracedBlurMm(2.40278, 63.5, 5) / formulaMm - 1)).toBeLessThan(0.005);
  });

  it("zinc selenide has the handbook's index of 2.4028 at 10.6 µm", () => {
    expect(optics.refractiveIndex(10.6, optics.ZINC_SELENIDE)).toBeCloseTo(2.4028, 4);
  });

  it("no other shape has less aberration than the best form", () => {
    for (const index of [1.5, 2.4]) {
      const best = optics.bestFormShapeFactor(index);
      const least = optics.aberrationCoefficient(index, best);
      for (const step of [-1, -0.01, 0.01, 1]) {
        expect(optics.aberrationCoefficient(index, best + step)).toBeGreaterThan(least);
      }
    }
  });

  it("no other input diameter gives a smaller sum than the best", () => {
    const coefficient = 0.0285879;
    const sumMm = (inputDiameterMm: number) =>
      optics.focusedDiameterMm({ ...lens, inputDiameterMm }) +
      optics.aberrationBlurMm(coefficient, inputDiameterMm, lens.focalLengthMm);
    const best = optics.bestInputDiameterMm(lens, coefficient);
    expect(sumMm(best * 0.99)).toBeGreaterThan(sumMm(best));
    expect(sumMm(best * 1.01)).toBeGreaterThan(sumMm(best));
  });

  it("the depth of focus ends where the diameter has grown by the stated part", () => {
    const depthMm = optics.depthOfFocusMm(0.85, 0.07);
    expect(optics.defocusedDiameterMm(0.1, 0.85, depthMm / 2)).toBeCloseTo(0.107, 12);
    expect(optics.defocusedDiameterMm(0.1, 0.85, -depthMm / 2)).toBeCloseTo(0.107, 12);
  });

  it("a caustic gives back the propagation ratio it was made with", () => {
    const beam = { ...lens, inputDiameterMm: 12 };
    const waistMm = optics.focusedDiameterMm(beam);
    const rangeMm = optics.rayleighRangeMm(waistMm, lens.propagationRatio, lens.wavelengthMm);
    // Far from the waist the diameter grows in proportion to the full divergence angle.
    const divergence = optics.defocusedDiameterMm(waistMm, rangeMm, 1e7) / 1e7;
    expect(optics.propagationRatioFromCaustic(waistMm, divergence, lens.wavelengthMm)).toBeCloseTo(1.2, 9);
  });

  it("the finite-distance spot is below the far-field limit and tends to it for a wide beam", () => {
    const ratio = (inputDiameterMm: number) => {
      const beam = { ...lens, inputDiameterMm };
      return optics.finiteFocusedDiameterMm(beam) / optics.focusedDiameterMm(beam);
    };
    expect(ratio(2)).toBeLessThan(0.99);
    expect(ratio(20)).toBeLessThan(1);
    expect(ratio(20)).toBeGreaterThan(0.99999);
  });

  it("encircled power is the integral of the profile", () => {
    const diameterMm = 0.115;
    const radiusMm = 0.04;
    const steps = 20000;
    let power = 0;
    for (let i = 0; i < steps; i++) {
      const r = (radiusMm * (i + 0.5)) / steps;
      const irradiance = (8 / (Math.PI * diameterMm ** 2)) * Math.exp(-8 * (r / diameterMm) ** 2);
      power += irradiance * 2 * Math.PI * r * (radiusMm / steps);
    }
    expect(optics.encircledPower(radiusMm, diameterMm)).toBeCloseTo(power, 8);
  });
});
