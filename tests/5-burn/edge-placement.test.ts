import { describe, expect, it } from "vitest";
import { measureEdgePlacement } from "../../src/5-burn/edge-placement.js";
import type { Pitch } from "../../src/core/plane.js";
import type { BeamMotion, Spot } from "../../src/core/spot.js";
import { ideal, plainMemory, round, simdMemory, square } from "./burning.js";

const place = (pitch: Pitch, spot: Spot, halfDose: number, motion: BeamMotion = ideal, memory = simdMemory) =>
  measureEdgePlacement({ pitch, spot, motion }, halfDose, memory);

/** z with Φ(−z) = T, from tables of the normal distribution (Abramowitz & Stegun 1964, table 26.5). */
const Z_OF_TAIL = [
  [0.1, 1.28155],
  [0.2, 0.84162],
  [0.35, 0.38532],
  [0.5, 0],
] as const;

describe("growth of a mark past its last burned pixels", () => {
  // With lines much closer than the spot is wide the dose is that of a sharp edge under a Gaussian: Φ(−x/σ), σ = spot / 4.
  // A box one pitch long along the lines, and places of the edge between pixels, each add no more than p²/12 to the variance.
  it.each(Z_OF_TAIL)(
    "at dose %d of a solid fill, on a fine grid, is %d standard deviations",
    (halfDose, z) => {
      const spotMm = 0.2;
      const pitchMm = 0.0125;
      const { meanMm, toleranceMm } = place(square(pitchMm), round(spotMm), halfDose);
      const low = z * (spotMm / 4);
      const high = z * Math.hypot(spotMm / 4, pitchMm / Math.sqrt(6));
      for (const mm of meanMm) {
        expect(mm).toBeGreaterThan(low - 0.04 * pitchMm);
        expect(mm).toBeLessThan(high + 0.04 * pitchMm);
      }
      expect(toleranceMm.along).toBeLessThan(0.09 * pitchMm);
      expect(toleranceMm.across).toBeLessThan(0.09 * pitchMm);
    },
  );

  it("is told along and across apart for an elliptical spot, and in between in between", () => {
    const spot = { alongMm: 0.08, acrossMm: 0.24 };
    const { meanMm } = place(square(0.0125), spot, 0.2);
    const sigma = { along: 0.02, across: 0.06 };
    // A Gaussian of two widths, cut by an edge: the variance along its normal.
    [0, 0.25, 0.5, 0.75, 1].forEach((share, k) => {
      const growth = 0.84162 * Math.sqrt(sigma.along ** 2 * (1 - share) + sigma.across ** 2 * share);
      expect(Math.abs(meanMm[k] - growth)).toBeLessThan(0.001);
    });
  });

  it("is the lag's delay later in the direction of travel: the mean of its exponential", () => {
    const motion = { ...ideal, speedMmPerS: 500, firingLagUs: 20 };
    // 0.01 mm of lag under σ = 0.05 mm: hardly skew, so the mark comes 0.01 mm late and grows as without.
    const { lateMm, meanMm } = place(square(0.0125), round(0.2), 0.2, motion);
    expect(lateMm).toBeGreaterThan(0.009);
    expect(lateMm).toBeLessThan(0.0105);
    expect(meanMm[0]).toBeGreaterThan(0.84162 * 0.05 - 0.0005);
    expect(meanMm[0]).toBeLessThan(0.84162 * Math.hypot(0.05, 0.01) + 0.001);
  });

  // One end of a shape moves by the loss along the line, the other stays: half of that is growth, half is late. An edge with the normal
  // n moves by n.x of it. Between pixels, an edge along the lines is made of lone pixels, which lose more: up to half a pitch.
  it.each([
    [20, square(0.0125)],
    [50, square(0.0125)],
    [-30, square(0.0125)],
    [20, { alongMm: 0.01, acrossMm: 0.02 }],
  ])("falls by half the firing loss of %d µs, and is late by half of it", (firingLossUs, pitch) => {
    const lossMm = 500 * firingLossUs * 1e-6;
    const spot = { alongMm: 0.16, acrossMm: 0.24 };
    const still = place(pitch, spot, 0.2, { ...ideal, speedMmPerS: 500 });
    const lossy = place(pitch, spot, 0.2, { ...ideal, speedMmPerS: 500, firingLossUs });
    expect(lossy.lateMm).toBeCloseTo(Math.abs(lossMm) / 2, 4);
    [0, 0.25, 0.5, 0.75, 1].forEach((share, k) => {
      const movedMm = lossy.meanMm[k] - still.meanMm[k];
      const tolerance = 0.0005 + (k === 0 ? 0 : pitch.acrossMm / 2);
      expect(Math.abs(movedMm + (lossMm / 2) * Math.sqrt(1 - share))).toBeLessThan(tolerance);
    });
    // A stroke must last longer by the loss, and a gap may be closed by a source that stops late.
    expect(lossy.minRunPx.across).toBe(still.minRunPx.across);
    const longerPx = lossy.minRunPx.along - still.minRunPx.along;
    expect(Math.abs(longerPx - lossMm / pitch.alongMm)).toBeLessThan(1);
    expect(Math.abs(lossy.closingGapMm.along - still.closingGapMm.along)).toBeLessThan(1.001 * pitch.alongMm);
  });

  it("is the same in both forms of the kernels", () => {
    const motion = { ...ideal, firingLagUs: 50, firingLossUs: 40 };
    const job = [square(0.05), round(0.115), 0.35, motion] as const;
    expect(place(...job, plainMemory)).toEqual(place(...job, simdMemory));
  });
});

describe("thinnest mark", () => {
  // Liu 1982: m = d · √(ln(peak / threshold) / 2), with the peak of a lone line √(8/π) · pitch / d.
  it.each([
    [0.1, 0.115],
    [0.05, 0.115],
    [0.05, 0.08],
  ])("of lines %d mm apart under a spot of %d mm is a lone line's", (pitchMm, spotMm) => {
    const peak = (Math.sqrt(8 / Math.PI) * pitchMm) / spotMm;
    const { minRunPx, thinnestMarkMm } = place(square(pitchMm), round(spotMm), 0.35);
    expect(minRunPx).toEqual({ along: 1, across: 1 });
    const markMm = spotMm * Math.sqrt(Math.log(peak / 0.35) / 2);
    expect(Math.abs(thinnestMarkMm.across - markMm)).toBeLessThan(0.01 * spotMm);
  });

  it("takes two lines where one leaves no mark: peak 0.347 at 0.025 mm and 0.115 mm", () => {
    const { minRunPx, thinnestMarkMm } = place(square(0.025), round(0.115), 0.35);
    expect(minRunPx).toEqual({ along: 2, across: 2 });
    // Two Gaussians 0.025 mm apart: 2 · 0.347 · exp(−8 (x² + 0.0125²)/d²) · cosh(16 · 0.0125 x/d²) = 0.35 at x = 0.03450 (SciPy, brentq).
    expect(thinnestMarkMm.across).toBeCloseTo(2 * 0.0345, 3);
  });
});

describe("gaps that close", () => {
  // Between two sharp edges under a Gaussian the least dose is 2Φ(−(gap/2 + growth)/σ). With a dose a quarter higher it stays
  // below a half response of 0.2 from gap/2 + growth = 1.40507 σ up (A&S table 26.5, tail 0.08); the growth is 0.84162 σ.
  it("on a fine grid are those in which two edges together come near the half response, up to whole pixels", () => {
    const pitchMm = 0.0125;
    const { closingGapMm } = place(square(pitchMm), round(0.2), 0.2);
    const gapMm = 2 * (1.40507 - 0.84162) * 0.05;
    for (const mm of [closingGapMm.along, closingGapMm.across]) {
      expect(mm).toBeGreaterThan(gapMm - 0.003);
      expect(mm).toBeLessThan(gapMm + pitchMm);
    }
  });
});
