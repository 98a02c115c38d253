/*
 * Pitch and spot that differ along and across, in another ratio each: whoever exchanges the two directions gets another value.
 */
import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import type { HalftoneFunction } from "../../src/5-burn/flat-patch.js";
import { DETAIL_SIDES_MM, tonalResolution } from "../../src/5-burn/tonal-resolution.js";
import { visualErrors } from "../../src/5-burn/visual-error.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { BRIGHTEST_CODE } from "../../src/core/luminance-codes.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import type { Pitch } from "../../src/core/plane.js";
import { seededRandom } from "../../src/core/random.js";
import { createResponse, type ResponsePoints } from "../../src/core/response.js";
import { lookUp } from "../../src/core/tabulated.js";
import { gradualPoints, steepPoints } from "../support/materials.js";
import { askReference, hasReference } from "../support/reference.js";
import { ideal, meanOver, simdMemory } from "./burning.js";
import { directApertureMeans } from "./direct-apertures.js";
import { burnJob } from "./job.js";
import { type ReferenceCase, simulateCases } from "./reference-cases.js";

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

describe.skipIf(!hasReference())(
  "tones through apertures, on surfaces from the brute-force simulation",
  () => {
    const fractions = [0.1, 0.3, 0.5, 0.8];
    const doseSpread = 0.1;
    /** 6 mm of pixels, and a margin of 24 pixels on every side. */
    const [patchColumns, patchRows, margin] = [150, 86, 24];
    const [columns, rows] = [patchColumns + 2 * margin, patchRows + 2 * margin];

    /** Strokes of eight pixels along the lines: much coarser along than across. */
    const strokes: HalftoneFunction = (codes, width, height) => {
      expect([width, height]).toEqual([columns, rows]);
      return packBitmap(strokeBits(codes[0] / FRACTION_ONE), width, height);
    };
    function strokeBits(fraction: number): Uint8Array {
      const random = seededRandom(5);
      const perRow = Math.ceil(columns / 8);
      const on = Uint8Array.from({ length: perRow * rows }, () => (random() < fraction ? 1 : 0));
      return Uint8Array.from(
        { length: columns * rows },
        (_, i) => on[Math.floor(i / columns) * perRow + ((i % columns) >> 3)],
      );
    }

    /** CIE 1976 lightness above the knee (CIE 15), written out again. */
    const lightness = (y: number) => 116 * Math.cbrt(y) - 16;
    const variance = (values: readonly number[]) => {
      const mean = meanOver(values);
      return meanOver(values.map((value) => (value - mean) ** 2));
    };

    /** The patch's surface at a dose: the response's own doses are divided by it. */
    const caseOf = (fraction: number, dose: number): ReferenceCase => ({
      ...{ pitch, spot, sampling: 1, columns, rows, bits: strokeBits(fraction) },
      points: gradualPoints.map(([at, luminance]) => [at / dose, luminance]) as ResponsePoints,
    });
    const inner = (luminance: Float64Array) =>
      luminance.filter((_, i) => {
        const [x, y] = [i % columns, Math.floor(i / columns)];
        return x >= margin && x < columns - margin && y >= margin && y < rows - margin;
      });

    it("count what apertures of 0.15 to 1 mm show along and across", () => {
      const doses = [1, 1 - doseSpread, 1 + doseSpread];
      const simulated = simulateCases(
        fractions.flatMap((fraction) => doses.map((dose) => caseOf(fraction, dose))),
      );
      const patches = fractions.map((_, k) => {
        const planes = doses.map((_, d) => inner(simulated[doses.length * k + d].luminance));
        const atDoses = planes.map((plane) => lightness(meanOver(plane)));
        const spreads = DETAIL_SIDES_MM.map((side) => {
          const [along, across] = [side / pitch.alongMm, side / pitch.acrossMm];
          const means = directApertureMeans(planes[0], patchColumns, patchRows, along, across);
          return Math.sqrt(variance(means.map(lightness)));
        });
        return { lightness: atDoses[0], wander: variance(atDoses), spreads };
      });
      const tones = (side: number, held: boolean) =>
        patches.slice(1).reduce((sum, patch, k) => {
          const before = patches[k];
          const spread = (patch.spreads[side] + before.spreads[side]) / 2;
          const wander = held ? (patch.wander + before.wander) / 2 : 0;
          return (
            sum + Math.abs(patch.lightness - before.lightness) / Math.sqrt(1 + 4 * (spread ** 2 + wander))
          );
        }, 1);
      const found = tonalResolution(
        simdMemory,
        fractions,
        strokes,
        planExposure(pitch, spot, ideal),
        createResponse(gradualPoints),
        pitch,
        doseSpread,
      );
      found.forEach(({ nominal, held, detailMm }, side) => {
        expect(Math.abs(nominal / tones(side, false) - 1), `nominal at ${detailMm} mm`).toBeLessThan(0.002);
        expect(Math.abs(held / tones(side, true) - 1), `held at ${detailMm} mm`).toBeLessThan(0.002);
      });
    });
  },
);

describe.skipIf(!hasReference())("the visual error, by the brute-force simulation", () => {
  it.each([
    ["stripes across the lines", (x: number, _: number) => Math.sin((2 * Math.PI * x) / 14)],
    ["stripes along the lines", (_: number, y: number) => Math.sin((2 * Math.PI * y) / 14)],
  ])("of %s is what the eye keeps of them at their own pitch", (_, wave) => {
    const [columns, rows] = [200, 140];
    const target = new Float32Array(columns * rows).fill(0.4);
    const luminance = target.map((tone, i) => tone + 0.2 * wave(i % columns, Math.floor(i / columns)));
    const viewing = { distanceMm: 300, luminanceCdPerM2: 10 };
    const [error] = visualErrors([luminance], target, columns, rows, pitch, viewing);
    const given = { pitch, spot, points: steepPoints, sampling: 1, columns, rows };
    const [reference] = simulateCases([{ ...given, luminance, target }]);
    expect(reference.rms).toBeGreaterThan(0.5);
    expect(Math.abs(error.rms / reference.rms - 1)).toBeLessThan(0.005);
  });
});
