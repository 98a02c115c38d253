import { describe, expect, it } from "vitest";
import { doseStride, exposeRows } from "../../src/5-burn/exposure.js";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { levelLuminances } from "../../src/5-burn/solid-fill.js";
import type { KernelMemory } from "../../src/core/kernel-memory.js";
import { createResponse } from "../../src/core/material/response.js";
import { seededRandom } from "../../src/core/random.js";
import type { BeamMotion } from "../../src/core/spot.js";
import { gaussian, integrate } from "../support/integrate.js";
import { doseOf, ideal, plainMemory, round, simdMemory, square, worstDifference } from "./burning.js";

const columns = 21;
const rows = 9;

function randomLevels(levels: number): Uint8Array {
  const random = seededRandom(levels);
  return Uint8Array.from({ length: columns * rows }, () => Math.floor(levels * random()));
}

/** The finely sampled dose of a map of levels, in the order of the samples. */
function doseOfLevels(
  plan: ReturnType<typeof planExposure>,
  map: Uint8Array,
  memory: KernelMemory = simdMemory,
): Float32Array {
  const { samplesAlong, samplesAcross } = plan;
  const width = columns * samplesAlong;
  const stride = doseStride(columns);
  const out = new Float32Array(width * rows * samplesAcross);
  const row = (y: number) => map.subarray(y * columns, (y + 1) * columns);
  exposeRows({ plan, memory }, { columns, rows, row }, { firstRow: 0, endRow: rows }, (dose, y, t) => {
    const from = (y * samplesAcross + t) * width;
    for (let i = 0; i < width; i++) {
      out[from + i] = dose[(i % samplesAlong) * stride + Math.floor(i / samplesAlong)];
    }
  });
  return out;
}

const sampleAt = (sample: number, perPixel: number): number => (sample + 0.5) / perPixel - 0.5;

describe("dose of a map of power levels", () => {
  // Section 2 of the engraving model, each pixel weighed by k/(n − 1); the box under the Gaussian is integrated.
  it.each([
    [3, 0.1],
    [16, 0.05],
    [256, 0.025],
  ])("against the formula summed pixel by pixel, %i levels, pitch %f mm", (levels, pitchMm) => {
    const sigma = 0.115 / 4;
    const plan = planExposure(square(pitchMm), round(0.115), ideal, { levels });
    const { samplesAlong, samplesAcross } = plan;
    const map = randomLevels(levels);
    const known = new Map<string, number>();
    const along = (xMm: number): number => {
      const key = xMm.toFixed(9);
      const found =
        known.get(key) ?? integrate((u) => gaussian(xMm - u, sigma), -pitchMm / 2, pitchMm / 2, 48);
      known.set(key, found);
      return found;
    };
    const width = columns * samplesAlong;
    const direct = new Float64Array(width * rows * samplesAcross);
    for (let n = 0; n < direct.length; n++) {
      const xPx = sampleAt(n % width, samplesAlong);
      const yPx = sampleAt(Math.floor(n / width), samplesAcross);
      for (let j = 0; j < rows; j++) {
        const across = pitchMm * gaussian((yPx - j) * pitchMm, sigma);
        for (let i = 0; i < columns; i++) {
          direct[n] += (map[j * columns + i] / (levels - 1)) * across * along((xPx - i) * pitchMm);
        }
      }
    }
    expect(worstDifference(doseOfLevels(plan, map), direct)).toBeLessThan(3e-6);
  });

  const motions: [string, Partial<BeamMotion>][] = [
    ["ideal", {}],
    ["lag and line shift", { firingLagUs: 60, lineShiftMm: 0.03 }],
    ["a lag as long as the line", { firingLagUs: 800, lineShiftMm: -0.02 }],
  ];

  // Dose is linear in power: a map of n levels is the mean of the n − 1 bitmaps "at least level k".
  it.each(motions)("is the mean of the doses of its bitmaps: %s", (_, changes) => {
    const levels = 5;
    const motion = { ...ideal, ...changes };
    const map = randomLevels(levels);
    const bitPlan = planExposure(square(0.05), round(0.1), motion);
    const sum = new Float64Array(doseOfLevels({ ...bitPlan, levels }, map).length);
    for (let k = 1; k < levels; k++) {
      const bits = map.map((level) => (level >= k ? 1 : 0));
      doseOf(bitPlan, bits, columns, rows).forEach((dose, i) => {
        sum[i] += dose / (levels - 1);
      });
    }
    expect(worstDifference(doseOfLevels({ ...bitPlan, levels }, map), sum)).toBeLessThan(1e-6);
  });

  it.each(motions)("is the same in both forms of the kernels: %s", (_, changes) => {
    for (const overdrive of [0.7, 1.2, 3.3]) {
      const plan = planExposure(
        square(0.1 / overdrive),
        round(0.1),
        { ...ideal, ...changes },
        { levels: 16 },
      );
      const map = randomLevels(16);
      expect([...doseOfLevels(plan, map, simdMemory)]).toEqual([...doseOfLevels(plan, map, plainMemory)]);
    }
  });
});

it("a fill at level k of n is a solid fill of dose k/(n − 1): on a linear response a straight line", () => {
  const response = createResponse([
    [0, 0.8],
    [4, 0],
  ]);
  const plan = planExposure(square(0.1), round(0.115), ideal, { levels: 9 });
  levelLuminances({ plan, response, memory: simdMemory }).forEach((luminance, k) => {
    expect(Math.abs(luminance - (0.8 - (0.2 * k) / 8))).toBeLessThan(1e-5);
  });
  levelLuminances({ plan, response, memory: simdMemory }, 1.1).forEach((luminance, k) => {
    expect(Math.abs(luminance - (0.8 - (0.22 * k) / 8))).toBeLessThan(1e-5);
  });
});
