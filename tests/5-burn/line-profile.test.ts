import { describe, expect, it } from "vitest";
import { burstProfile, gaussianDensity } from "../../src/5-burn/line-profile.js";
import { gaussian, integrate } from "../support/integrate.js";

const sigmaMm = 0.025;
const distancesMm = Array.from({ length: 81 }, (_, i) => (i - 30) * 0.008);

/** Dose of a burned pixel. */
const pixelProfile = (xMm: number, pitchMm: number, spotSigmaMm: number, lagMm: number): number =>
  burstProfile(xMm, { fromMm: -pitchMm / 2, toMm: pitchMm / 2 }, spotSigmaMm, lagMm);

/** Box of one pitch through the Gaussian, by the definition: ∫ g(x − u) du over the pixel. */
const held = (xMm: number, pitchMm: number) =>
  integrate((u) => gaussian(xMm - u, sigmaMm), -pitchMm / 2, pitchMm / 2, 400);

describe("dose of one pixel along its line", () => {
  it.each([0.02, 0.1, 0.2])("is a box of one pitch under the Gaussian spot, pitch %d mm", (pitchMm) => {
    for (const xMm of distancesMm) {
      expect(Math.abs(pixelProfile(xMm, pitchMm, sigmaMm, 0) - held(xMm, pitchMm))).toBeLessThan(1e-9);
    }
  });

  // The lag lengths run from hardly any to five pitches.
  it.each([0.0002, 0.001, 0.00115, 0.004, 0.025, 0.12, 0.5])(
    "is the same trailed by the exponential, lag %d mm, against numerical convolution",
    (lagMm) => {
      const pitchMm = 0.1;
      for (const xMm of distancesMm) {
        // ∫ e^(−t) · held(x − ℓt) dt; beyond t = 40 less than 1e-17 is left.
        const box = (u: number) => 0.5 * (cumulative(u + pitchMm / 2) - cumulative(u - pitchMm / 2));
        const trailed = integrate((t) => Math.exp(-t) * box(xMm - lagMm * t), 0, 40, 4000);
        expect(Math.abs(pixelProfile(xMm, pitchMm, sigmaMm, lagMm) - trailed), `at ${xMm}`).toBeLessThan(
          2e-7,
        );
      }
    },
  );

  it.each([1e-9, 1e-4, 0.00114, 0.003, 1])("is a number, however far away, lag %d mm", (lagMm) => {
    for (const xMm of [-50, -5, -1, -0.6, -0.3, 0.3, 1, 50]) {
      const dose = pixelProfile(xMm, 0.2, sigmaMm, lagMm);
      expect(dose).toBeGreaterThan(-1e-15);
      if (xMm < -0.5) expect(dose).toBeLessThan(1e-12);
    }
  });

  it("adds up to 1 along a solid line, lagging or not", () => {
    for (const lagMm of [0, 0.0005, 0.01, 0.08]) {
      let sum = 0;
      for (let i = -60; i <= 60; i++) sum += pixelProfile(0.013 + i * 0.05, 0.05, sigmaMm, lagMm);
      expect(sum).toBeCloseTo(1, 12);
    }
  });

  it("moves its centre by the lag length, the mean of the exponential", () => {
    let first = 0;
    let sum = 0;
    for (let xMm = -1; xMm <= 3; xMm += 0.001) {
      const dose = pixelProfile(xMm, 0.1, sigmaMm, 0.06);
      first += xMm * dose;
      sum += dose;
    }
    expect(first / sum).toBeCloseTo(0.06, 6);
  });

  it("has the Gaussian's density across", () => {
    expect(integrate((x) => gaussianDensity(x, sigmaMm), -0.3, 0.3, 2000)).toBeCloseTo(1, 10);
    expect(gaussianDensity(0.0115, sigmaMm)).toBeCloseTo(gaussian(0.0115, sigmaMm), 12);
  });
});

/** 2Φ(x/σ) − 1 by a table of Simpson sums, exact to 1e-12 and quick to ask. */
const cumulative = (() => {
  const reach = 10 * sigmaMm;
  const steps = 20000;
  const h = reach / steps;
  const table = new Float64Array(steps + 2);
  for (let i = 1; i < table.length; i++) {
    table[i] = table[i - 1] + integrate((x) => 2 * gaussian(x, sigmaMm), (i - 1) * h, i * h, 2);
  }
  return (x: number): number => {
    const at = Math.min(Math.abs(x) / h, steps);
    const step = Math.floor(at);
    const value = table[step] + (table[step + 1] - table[step]) * (at - step);
    return Math.sign(x) * value;
  };
})();
