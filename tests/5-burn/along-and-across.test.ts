/*
 * Pitch and spot that differ along and across, in another ratio each: whoever exchanges the two directions gets another value.
 */
import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import type { HalftoneFunction } from "../../src/5-burn/flat-patch.js";
import { tonalResolution } from "../../src/5-burn/tonal-resolution.js";
import { visualErrors } from "../../src/5-burn/visual-error.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { BRIGHTEST_CODE } from "../../src/core/luminance-codes.js";
import { createResponse } from "../../src/core/material/response.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import type { Pitch } from "../../src/core/plane.js";
import { seededRandom } from "../../src/core/random.js";
import { DEFAULT_SPREAD } from "../../src/core/spread.js";
import { lookUp } from "../../src/core/tabulated.js";
import { gradualPoints, steepPoints } from "../support/materials.js";
import { askReference, hasReference } from "../support/reference.js";
import { ideal, meanOver, simdMemory } from "./burning.js";
import { directTones } from "./direct-tones.js";
import { burnJob } from "./job.js";
import { simulateCases } from "./reference-cases.js";

const pitch = { alongMm: 0.04, acrossMm: 0.07 };
const spot = { alongMm: 0.09, acrossMm: 0.14 };

/** Standard deviation of a spot is a quarter of its 1/e² diameter (ISO 11146-1). */
const sigmasPx = (given: Pitch) => [spot.alongMm / 4 / given.alongMm, spot.acrossMm / 4 / given.acrossMm];

const rms = (values: ArrayLike<number>) => Math.sqrt(meanOver(Array.from(values, (value) => value * value)));

describe.skipIf(!hasReference())("compensation, blurred by SciPy", () => {
  const [columns, rows] = [96, 64];

  /** Burn fractions of a picture, and f + f(B·T) − B·f of every pixel, with B by SciPy; all 0..1. */
  function balanced(given: Pitch, picture: (x: number, y: number) => number) {
    const job = burnJob(steepPoints, given, spot, "floyd-steinberg");
    const luminance = Float32Array.from({ length: columns * rows }, (_, i) =>
      picture(i % columns, Math.floor(i / columns)),
    );
    const wanted = Array.from(luminance, (value) =>
      job.target(Math.round(value * BRIGHTEST_CODE) / BRIGHTEST_CODE),
    );
    const own = wanted.map((tone) => lookUp(job.burnFor, tone));
    const blurred = (pixels: readonly number[]) =>
      askReference<number[][]>("scipy_values.py", {
        ...{ task: "gaussian", columns, rows, pixels, sigmas: [sigmasPx(given)] },
      })[0];
    const [tone, fraction] = [blurred(wanted), blurred(own)];
    const balance = own.map((_, i) => lookUp(job.burnFor, tone[i]) - fraction[i]);
    const made = Array.from(
      job.fractionsOf(luminance, columns, rows),
      (code, i) => code / FRACTION_ONE - own[i],
    );
    return { made, balance, own };
  }

  it("is f + f(B·T) − B·f at every pixel where cells are pixels", () => {
    const random = seededRandom(17);
    const { made, balance, own } = balanced(pitch, () => 0.1 + 0.8 * random());
    expect(rms(balance)).toBeGreaterThan(0.01);
    made.forEach((added, i) => {
      const within = Math.min(1, Math.max(0, own[i] + balance[i])) - own[i];
      // The balance looks its table up without interpolation, and rounds to an integer: two steps of 1/16384.
      expect(Math.abs(added - within)).toBeLessThan(2.5 / FRACTION_ONE);
    });
  });

  // Cells of 4 × 2 pixels. Averaging over a cell of two σ adds up to a third to the spot's variance, which the balance of
  // long waves follows; the variances along and across are 2.4 apart.
  it.each(["along", "across"])(
    "is within a quarter of that in cells of half a spot: waves %s",
    (direction) => {
      const [alongMm, acrossMm] = [0.01, 0.03];
      const period = direction === "along" ? (3 * spot.alongMm) / alongMm : (3 * spot.acrossMm) / acrossMm;
      const { made, balance } = balanced({ alongMm, acrossMm }, (x, y) => {
        const at = direction === "along" ? x : y;
        return 0.5 + 0.4 * Math.sin((2 * Math.PI * at) / period);
      });
      expect(rms(made.map((added, i) => added - balance[i]))).toBeLessThan(0.25 * rms(balance));
    },
  );
});

describe.skipIf(!hasReference())("tones through apertures, by the brute-force simulation", () => {
  /** Strokes of eight pixels along the lines: much coarser along than across. */
  const strokes: HalftoneFunction = (fractions, columns, rows) => {
    const random = seededRandom(5);
    const perRow = Math.ceil(columns / 8);
    const share = fractions[0] / FRACTION_ONE;
    const on = Uint8Array.from({ length: perRow * rows }, () => (random() < share ? 1 : 0));
    const bits = Uint8Array.from(
      { length: columns * rows },
      (_, i) => on[Math.floor(i / columns) * perRow + ((i % columns) >> 3)],
    );
    return packBitmap(bits, columns, rows);
  };

  it("count what apertures of 0.15 to 1 mm show along and across", () => {
    const fractions = [0.1, 0.3, 0.5, 0.8];
    const spread = { ...DEFAULT_SPREAD, localLengthMm: 0.4, line: 0.1 };
    const given = { fractions, halftone: strokes, points: gradualPoints, spread, sampling: 1 };
    const direct = directTones({ ...given, pitch, spot });
    const plan = planExposure(pitch, spot, ideal);
    const response = createResponse(gradualPoints);
    const exposure = { plan, response, memory: simdMemory };
    const found = tonalResolution(exposure, strokes, fractions, { pitch, spot }, spread);
    found.forEach(({ nominal, held, detailMm }, k) => {
      expect(Math.abs(nominal / direct[k].nominal - 1), `nominal at ${detailMm} mm`).toBeLessThan(1e-5);
      expect(Math.abs(held / direct[k].held - 1), `held at ${detailMm} mm`).toBeLessThan(1e-5);
    });
  });
});

describe.skipIf(!hasReference())("the visual error, by the brute-force simulation", () => {
  it.each([
    ["stripes across the lines", (x: number, _: number) => Math.sin((2 * Math.PI * x) / 14)],
    ["stripes along the lines", (_: number, y: number) => Math.sin((2 * Math.PI * y) / 14)],
  ])("of %s is what the eye keeps of them at their own pitch", (_, wave) => {
    const [columns, rows] = [200, 140];
    const target = new Float32Array(columns * rows).fill(0.4);
    const luminance = target.map((tone, i) => tone + 0.2 * wave(i % columns, Math.floor(i / columns)));
    const viewing = { distanceMm: 300, luminanceCdPerM2: 50 };
    const [error] = visualErrors([luminance], target, columns, { pitch, viewing });
    const given = { pitch, spot, points: steepPoints, sampling: 1, columns, rows };
    const [reference] = simulateCases([{ ...given, luminance, target }]);
    expect(reference.rms).toBeGreaterThan(0.5);
    expect(Math.abs(error.rms / reference.rms - 1)).toBeLessThan(0.005);
  });
});
