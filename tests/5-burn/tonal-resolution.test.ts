import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import type { HalftoneFunction } from "../../src/5-burn/flat-patch.js";
import { patchLightness, tonalResolution } from "../../src/5-burn/tonal-resolution.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { createResponse } from "../../src/core/material/response.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import { luminanceFromLightness } from "../../src/core/physics/lightness.js";
import { lookUp } from "../../src/core/tabulated.js";
import { gradualPoints } from "../support/materials.js";
import { hasReference } from "../support/reference.js";
import { ideal, round, simdMemory, square } from "./burning.js";
import { directTones } from "./direct-tones.js";
import { burnJob } from "./job.js";

/** CIE 1976 lightness above the knee (CIE 15), written out again. */
const lightness = (y: number) => 116 * Math.cbrt(y) - 16;

describe("tones without noise", () => {
  // So many pixels within the spot that the dose is even: level k of 32 is a dose of k/32 wherever one looks.
  const wholeTile: HalftoneFunction = (fractions, columns, rows) => {
    const bits = Uint8Array.from(fractions, (fraction, i) => {
      const [x, y] = [i % columns, Math.floor(i / columns)];
      return (5 * x + 13 * y) % 32 < Math.round((32 * fraction) / FRACTION_ONE) ? 1 : 0;
    });
    return packBitmap(bits, columns, rows);
  };
  const response = createResponse([
    [0, 0.9],
    [1.25, 0.1],
  ]);
  const pitch = { alongMm: 0.05, acrossMm: 0.035 };
  const plan = planExposure(pitch, round(1.2), ideal);
  const fractions = Float64Array.from({ length: 33 }, (_, k) => k / 32);
  const tones = tonalResolution({ plan, response, memory: simdMemory }, wholeTile, fractions, pitch, 0.1);

  it("are one for each step of L*, and one more, whatever the detail's size", () => {
    const expected = 1 + lightness(0.9) - lightness(0.9 - 0.02 * 32);
    expect(tones.map(({ detailMm }) => detailMm)).toEqual([0.15, 0.25, 0.5, 1]);
    for (const { nominal } of tones) expect(nominal).toBeCloseTo(expected, 2);
  });

  it("are fewer while the dose drifts, by its variance in L* at each level", () => {
    const at = (level: number) => [1, 0.9, 1.1].map((factor) => lightness(0.9 - 0.02 * level * factor));
    const variance = (level: number) => {
      const values = at(level);
      const mean = (values[0] + values[1] + values[2]) / 3;
      return values.reduce((sum, value) => sum + (value - mean) ** 2 / 3, 0);
    };
    let expected = 1;
    for (let level = 0; level < 32; level++) {
      const wander = (variance(level) + variance(level + 1)) / 2;
      expected += Math.abs(at(level + 1)[0] - at(level)[0]) / Math.sqrt(1 + 4 * wander);
    }
    for (const { held, nominal } of tones) {
      expect(held).toBeCloseTo(expected, 2);
      expect(held).toBeLessThan(nominal);
    }
  });

  it("stand beside what counting pixels would promise, 1 + side²/pixel area", () => {
    // 1 + 0.0225/0.00175 = 13.9, 1 + 0.0625/0.00175 = 36.7, 1 + 0.25/0.00175 = 143.9, 1 + 1/0.00175 = 572.4.
    expect(tones.map(({ addressable }) => addressable)).toEqual([14, 37, 144, 572]);
  });
});

describe.skipIf(!hasReference())("tones of Floyd–Steinberg on a gradual material, 0.115 mm spot", () => {
  it.each([254, 508, 1016])(
    "at %d lines per inch are those of the brute-force simulation",
    (linesPerInch) => {
      const [pitch, spot] = [square(25.4 / linesPerInch), round(0.115)];
      const job = burnJob(gradualPoints, pitch, spot, "floyd-steinberg");
      // Nine of the 33 tones, to be quick: the rule is the same for as many as there are.
      const asked = patchLightness().filter((_, k) => k % 4 === 0);
      const fractions = Array.from(asked, (l) => lookUp(job.burnFor, job.target(luminanceFromLightness(l))));
      const { halftone, plan, response } = job;
      const tones = tonalResolution({ plan, response, memory: simdMemory }, halftone, fractions, pitch, 0.1);
      // The same number of samples as ours: ten per spot if lines stand apart, otherwise five.
      const sampling = linesPerInch < 300 ? 2 : 1;
      const given = { fractions, halftone, points: gradualPoints, doseSpread: 0.1, sampling };
      const direct = directTones({ ...given, pitch, spot });
      tones.forEach(({ nominal, held, detailMm }, k) => {
        expect(Math.abs(nominal / direct[k].nominal - 1), `nominal at ${detailMm} mm`).toBeLessThan(1e-5);
        expect(Math.abs(held / direct[k].held - 1), `held at ${detailMm} mm`).toBeLessThan(1e-5);
        expect(held).toBeLessThanOrEqual(nominal);
        if (k > 0) expect(nominal).toBeGreaterThan(tones[k - 1].nominal);
      });
    },
  );
});

it("asks for 33 tones equally spaced in L*, black and white included", () => {
  expect([...patchLightness()]).toEqual(Array.from({ length: 33 }, (_, i) => 3.125 * i));
});
