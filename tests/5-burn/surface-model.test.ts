import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { createSurfaceModel } from "../../src/5-burn/surface-model.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { createResponse, luminanceFactorAt } from "../../src/core/material/response.js";
import type { BeamMotion, Spot } from "../../src/core/spot.js";
import { AREA_ONE, type Footprint, STEPS_PER_DOSE, type SurfaceModel } from "../../src/core/surface-model.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../support/materials.js";
import { ideal, round, square } from "./burning.js";

const response = createResponse(steepPoints);
const surfaceOf = (pitchMm: number, spot: Spot, motion: BeamMotion = ideal): SurfaceModel =>
  createSurfaceModel({ pitch: square(pitchMm), spot, motion }, response, { bare: 0.6, solid: 0.05 });

const doseOne = ({ stepBits }: SurfaceModel): number => STEPS_PER_DOSE * 2 ** stepBits;
const total = ({ dose }: Footprint): number => dose.reduce((sum, value) => sum + value, 0);

describe("footprint", () => {
  it.each([
    [0.05, round(0.115)],
    [0.025, round(0.115)],
    [0.1, { alongMm: 0.08, acrossMm: 0.15 }],
    [0.2, round(0.115)],
    [1.27, round(0.005)],
    [0.005, round(0.06)],
  ] as const)("of all pixels together is a solid fill: pitch %f mm", (pitchMm, spot) => {
    const surface = surfaceOf(pitchMm, spot);
    const { evenLines, samplesAlong, samplesAcross } = surface;
    expect(total(evenLines) / (samplesAlong * samplesAcross) / doseOne(surface)).toBeCloseTo(1, 2);
    expect(evenLines.dose.length).toBeLessThan(500);
    // Small enough for a product with a fraction of 14 bits.
    expect(Math.max(...evenLines.dose)).toBeLessThan(2 ** 17);
    expect(Math.min(...evenLines.dose)).toBeGreaterThan(0);
  });

  it("is that of the exposure, where both take the same samples", () => {
    const spot = { alongMm: 0.13, acrossMm: 0.3 };
    const surface = surfaceOf(0.05, spot);
    const { evenLines: along, across, samplesAlong, samplesAcross } = planExposure(square(0.05), spot, ideal);
    expect([surface.samplesAlong, surface.samplesAcross]).toEqual([samplesAlong, samplesAcross]);
    const { evenLines } = surface;
    evenLines.dose.forEach((dose, k) => {
      const [x, y] = [evenLines.along[k], evenLines.across[k]];
      const column = Math.floor(x / samplesAlong);
      const row = Math.floor(y / samplesAcross);
      const exposed =
        along.taps[(x - column * samplesAlong) * along.width - column + along.before] *
        across.taps[(y - row * samplesAcross) * across.width - row + across.before];
      // The rest makes up for its cut tails, 0.6 %.
      expect(Math.abs(dose / doseOne(surface) / exposed - 1)).toBeLessThan(0.01);
    });
  });

  // The mean of an exponential delay is its time constant.
  it("lies behind by the lag, in the direction of travel, and off by the line shift", () => {
    const motion = { speedMmPerS: 400, firingLagUs: 100, firingLossUs: 0, lineShiftMm: 0.03, oneWay: false };
    const surface = surfaceOf(0.025, round(0.1), motion);
    const centreMm = (footprint: Footprint): number => {
      const sum = footprint.dose.reduce((all, dose, k) => all + dose * footprint.along[k], 0);
      return ((sum / total(footprint) + 0.5) / surface.samplesAlong - 0.5) * 0.025;
    };
    expect(centreMm(surface.evenLines)).toBeCloseTo(0.04, 2);
    expect(centreMm(surface.oddLines)).toBeCloseTo(0.03 - 0.04, 2);
  });
});

describe("marked area", () => {
  it.each([
    ["gradual", gradualPoints, 0.55, 0.08],
    ["steep", steepPoints, 0.6, 0.05],
    ["lightening", lighteningPoints, 0.05, 0.6],
  ] as const)("is linear in the luminance factor, %s", (_, points, bare, solid) => {
    const curve = createResponse(points);
    const surface = createSurfaceModel({ pitch: square(0.05), spot: round(0.115), motion: ideal }, curve, {
      bare,
      solid,
    });
    const samples = surface.samplesAlong * surface.samplesAcross;
    for (const dose of [0, 0.1, 0.25, 0.4, 0.75, 0.99]) {
      const marked = (surface.areaByDose[Math.round(dose * STEPS_PER_DOSE)] * samples) / AREA_ONE;
      expect(bare + marked * (solid - bare)).toBeCloseTo(luminanceFactorAt(curve, dose), 2);
    }
  });

  it("covers every dose that pixels can add up to", () => {
    for (const pitchMm of [0.2, 0.1, 0.05, 0.025]) {
      const surface = surfaceOf(pitchMm, round(0.115));
      const { samplesAlong, samplesAcross, evenLines } = surface;
      const solid = new Float64Array(samplesAlong * samplesAcross);
      evenLines.dose.forEach((dose, k) => {
        const x = ((evenLines.along[k] % samplesAlong) + samplesAlong) % samplesAlong;
        const y = ((evenLines.across[k] % samplesAcross) + samplesAcross) % samplesAcross;
        solid[y * samplesAlong + x] += dose;
      });
      expect(Math.max(...solid) >> surface.stepBits).toBeLessThan(surface.areaByDose.length);
    }
  });

  it("is expected of as many pixels as an even dose takes where spots overlap, of its own share where they touch", () => {
    const overlapping = surfaceOf(0.025, round(0.115)).expectedShare;
    const touching = surfaceOf(0.115, round(0.115)).expectedShare;
    for (const area of [0, 0.1, 0.5, 0.9, 1]) {
      const code = Math.round(area * FRACTION_ONE);
      expect(touching[code]).toBe(code);
      const luminance = luminanceFactorAt(response, overlapping[code] / FRACTION_ONE);
      expect(luminance).toBeCloseTo(0.6 - 0.55 * area, 2);
    }
  });
});
