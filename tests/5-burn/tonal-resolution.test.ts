import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import type { HalftoneFunction } from "../../src/5-burn/flat-patch.js";
import { patchLightness, tonalResolution } from "../../src/5-burn/tonal-resolution.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { createResponse } from "../../src/core/material/response.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import { luminanceFromLightness } from "../../src/core/physics/lightness.js";
import { DEFAULT_SPREAD, type Spread } from "../../src/core/spread.js";
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
  const spot = round(1.2);
  const plan = planExposure(pitch, spot, ideal);
  const fractions = Float64Array.from({ length: 33 }, (_, k) => k / 32);
  const steady: Spread = { common: 0, local: 0, localLengthMm: 2, line: 0, spot: 0.1 };
  const tonesOf = (spread: Partial<Spread>) => {
    const exposure = { plan, response, memory: simdMemory };
    return tonalResolution(exposure, wholeTile, fractions, { pitch, spot }, { ...steady, ...spread });
  };
  const tones = tonesOf({});
  const at = (dose: number) => lightness(0.9 - 0.64 * dose);

  it("are one for each step of L*, and one more, whatever the detail's size", () => {
    const expected = 1 + lightness(0.9) - lightness(0.9 - 0.02 * 32);
    expect(tones.map(({ detailMm }) => detailMm)).toEqual([0.15, 0.25, 0.5, 1]);
    for (const { nominal } of tones) expect(nominal).toBeCloseTo(expected, 2);
  });

  it("are all held while the dose stays, whatever the spot does", () => {
    for (const { held, nominal } of tones) expect(held).toBe(nominal);
  });

  it("are the least that remain while only the dose of the whole piece varies", () => {
    // A weaker dose spans less L*; a stronger one more, since no level reaches the end of the response.
    const expected = 1 + at(0) - at(0.9);
    for (const { held } of tonesOf({ common: 0.1 })) expect(held).toBeCloseTo(expected, 2);
  });

  /** Tones with a variance of ln dose. L* = 116·(0.9 − 0.64·D)^(1/3) − 16, so its slope over ln D is 116/3·0.64·D/(…)^(2/3). */
  function heldBy(doseVariance: number): number {
    const wander = (dose: number) =>
      doseVariance * (((116 / 3) * 0.64 * dose) / (0.9 - 0.64 * dose) ** (2 / 3)) ** 2;
    let expected = 1;
    for (let k = 0; k < 32; k++) {
      const [here, next] = [k / 32, (k + 1) / 32];
      expected += (at(here) - at(next)) / Math.sqrt(1 + 2 * (wander(here) + wander(next)));
    }
    return expected;
  }

  it("are fewer by the local variance times the squared slope, where the field is wider than any detail", () => {
    for (const { held } of tonesOf({ local: 0.05, localLengthMm: 1e5 })) {
      expect(held).toBeCloseTo(heldBy(0.05 ** 2), 2);
    }
  });

  it("are fewer by the part of a short field that a detail leaves, πℓ²/s² of the variance", () => {
    // For ℓ far below s. The next term is 2/√π·ℓ/s = 0.6 % of it at 1 mm.
    const { held } = tonesOf({ local: 0.25, localLengthMm: 0.005 })[3];
    expect(held / heldBy(0.25 ** 2 * Math.PI * 0.005 ** 2)).toBeCloseTo(1, 3);
  });

  it("are fewer by the part of independent lines that overlap leaves, p/(√π·d/2) of the variance", () => {
    // For d far above s, here 1.2 mm and 0.15 mm: g(s) = 1 − (2s/d)²/6 = 0.99.
    const [{ held }] = tonesOf({ line: 0.2 });
    const left = (0.99 * 0.035) / (Math.sqrt(Math.PI) * 0.6);
    expect(held).toBeCloseTo(heldBy(0.2 ** 2 * left), 2);
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
      const exposure = { plan, response, memory: simdMemory };
      const tones = tonalResolution(exposure, halftone, fractions, { pitch, spot }, DEFAULT_SPREAD);
      // The same number of samples as ours: ten per spot if lines stand apart, otherwise five.
      const sampling = linesPerInch < 300 ? 2 : 1;
      const given = { fractions, halftone, points: gradualPoints, spread: DEFAULT_SPREAD, sampling };
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
