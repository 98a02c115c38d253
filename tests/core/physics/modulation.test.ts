import { describe, expect, it } from "vitest";
import * as modulation from "../../../src/core/physics/modulation.js";

const sharp: modulation.ExposureBlur = { spotDiameterMm: 0, holdMm: 0, speedMmPerS: 0, lagUs: 0 };
const all: modulation.ExposureBlur = { spotDiameterMm: 0.115, holdMm: 0.1, speedMmPerS: 500, lagUs: 60 };

/** Modulus of the Fourier transform of a profile over its area, by summing from `from` to `to` mm. */
function transformed(
  profile: (x: number) => number,
  from: number,
  to: number,
  frequencyPerMm: number,
): number {
  const steps = 20000;
  let [real, imaginary, area] = [0, 0, 0];
  for (let i = 0; i < steps; i++) {
    const x = from + ((to - from) * (i + 0.5)) / steps;
    const value = profile(x);
    real += value * Math.cos(2 * Math.PI * frequencyPerMm * x);
    imaginary += value * Math.sin(2 * Math.PI * frequencyPerMm * x);
    area += value;
  }
  return Math.hypot(real, imaginary) / area;
}

describe("exposure", () => {
  it.each([0, 1.7, 4.4, 9, 13])("each factor at %f per mm is the transform of its profile", (frequency) => {
    const spot = transformed((x) => Math.exp(-8 * (x / 0.115) ** 2), -0.5, 0.5, frequency);
    expect(modulation.spotModulation(frequency, 0.115)).toBeCloseTo(spot, 6);
    const hold = transformed(() => 1, 0, 0.1, frequency);
    expect(modulation.holdModulation(frequency, 0.1)).toBeCloseTo(hold, 6);
    // 60 µs at 500 mm/s is a tail of 0.03 mm.
    const lag = transformed((x) => Math.exp(-x / 0.03), 0, 1, frequency);
    expect(modulation.lagModulation(frequency, 500, 60)).toBeCloseTo(lag, 5);
    expect(modulation.exposureModulation(frequency, all)).toBeCloseTo(spot * hold * lag, 5);
  });

  it.each([0.5, 0.1, 0.9])("the limit at %f is where all factors together leave that much", (fraction) => {
    const limit = modulation.exposureLimitPerMm(all, fraction);
    expect(modulation.exposureModulation(limit, all)).toBeCloseTo(fraction, 12);
    expect(modulation.exposureModulation(limit * 0.999, all)).toBeGreaterThan(fraction);
  });

  it("the limit of one factor alone is its closed form", () => {
    const spotOnly = modulation.exposureLimitPerMm({ ...sharp, spotDiameterMm: 0.115 }, 0.1);
    expect(spotOnly).toBeCloseTo(modulation.spotLimitPerMm(0.115, 0.1), 10);
    // 1/√(1 + u²) = 1/2 at u = √3.
    const lagOnly = modulation.exposureLimitPerMm({ ...sharp, speedMmPerS: 500, lagUs: 60 }, 0.5);
    expect(lagOnly).toBeCloseTo(Math.sqrt(3) / (2 * Math.PI * 0.03), 10);
  });

  it("nothing that blurs leaves everything at every frequency", () => {
    expect(modulation.exposureModulation(50, sharp)).toBe(1);
    expect(modulation.exposureLimitPerMm(sharp, 0.5)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("eye", () => {
  // By hand from the published constants: 0.525·ln 50 + 3.91 = 5.963812, 0.525·ln 10 + 3.91 = 5.118857, and 0.525·ln 11 + 3.91 = 5.168895.
  it("decays with Näsänen's constants", () => {
    expect(modulation.eyeDecayCyclesPerDegree()).toBeCloseTo(5.963812, 6);
    expect(modulation.eyeDecayCyclesPerDegree(10)).toBeCloseTo(5.118857, 6);
    expect(modulation.eyeDecayCyclesPerDegree(11)).toBeCloseTo(5.168895, 6);
    expect(modulation.eyeModulation(0)).toBe(1);
    expect(modulation.eyeModulation(5.963812)).toBeCloseTo(1 / Math.E, 6);
    expect(modulation.eyeModulation(10, 100)).toBeGreaterThan(modulation.eyeModulation(10, 10));
  });

  it("frequencies return from the eye to the work", () => {
    const cyclesPerDegree = modulation.cyclesPerDegreeFromPerMm(5, 300);
    expect(modulation.perMmFromCyclesPerDegree(cyclesPerDegree, 300)).toBeCloseTo(5, 12);
    expect(modulation.cyclesPerDegreeFromPerMm(5, 600) / cyclesPerDegree).toBeCloseTo(2, 12);
  });

  it("the acuity limit is seen under 1 minute of arc from any distance", () => {
    for (const distanceMm of [250, 300, 1000]) {
      expect(modulation.visualAngleArcmin(modulation.acuityMm(distanceMm), distanceMm)).toBeCloseTo(1, 9);
      // A quarter of a minute of arc. A small angle is its own tangent within 1e-8.
      const tolerated = modulation.acuityMm(distanceMm) / 4;
      expect(modulation.smoothFromMm(tolerated) / distanceMm).toBeCloseTo(1, 6);
    }
  });
});
