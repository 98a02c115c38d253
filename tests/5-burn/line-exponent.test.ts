import { describe, expect, it } from "vitest";
import { doseStride, exposeRows } from "../../src/5-burn/exposure.js";
import { type ExposurePlan, planExposure } from "../../src/5-burn/exposure-plan.js";
import { createRaiseRow } from "../../src/5-burn/raise-rows.js";
import { levelLuminances, solidLuminance } from "../../src/5-burn/solid-fill.js";
import type { KernelMemory } from "../../src/core/kernel-memory.js";
import { createResponse, luminanceFactorAt } from "../../src/core/material/response.js";
import { packBitmap, rowsOfBitmap } from "../../src/core/packed-bits.js";
import { gaussian, integrate } from "../support/integrate.js";
import { ideal, plainMemory, randomBits, round, simdMemory, square, worstDifference } from "./burning.js";

const curve = createResponse([
  [0, 1],
  [4, 0],
]);
const pitch = { alongMm: 0.04, acrossMm: 0.07 };
const spot = { alongMm: 0.09, acrossMm: 0.14 };
const planOf = (lineExponent: number, levels = 2) =>
  planExposure(pitch, spot, ideal, { levels, material: { curve, lineExponent } });

function doseOf(plan: ExposurePlan, map: Uint8Array, columns: number, memory: KernelMemory = simdMemory) {
  const { samplesAlong, samplesAcross, levels } = plan;
  const rows = map.length / columns;
  const width = columns * samplesAlong;
  const out = new Float32Array(width * rows * samplesAcross);
  const stride = doseStride(columns);
  const bitmap = rowsOfBitmap(packBitmap(map, columns, rows, levels));
  exposeRows({ plan, memory }, bitmap, { firstRow: 0, endRow: rows }, (dose, y, t) => {
    for (let i = 0; i < width; i++) {
      const at = (i % samplesAlong) * stride + Math.floor(i / samplesAlong);
      out[(y * samplesAcross + t) * width + i] = dose[at];
    }
  });
  return out;
}

const sampleAt = (sample: number, perPixel: number): number => (sample + 0.5) / perPixel - 0.5;

describe("lines whose doses do not add up", () => {
  // Section 14: every line by itself, every pixel of it, then (Σ dose^q)^(1/q).
  it.each([
    [1.5, 2],
    [3.7, 2],
    [1.5, 6],
  ])("against the formula summed line by line, exponent %d, %i levels", (q, levels) => {
    const [columns, rows] = [17, 8];
    const map = randomBits(columns, rows, 0.5, 4).map((bit, i) => bit * (1 + (i % (levels - 1))));
    const plan = planOf(q, levels);
    const { samplesAlong, samplesAcross } = plan;
    const width = columns * samplesAlong;
    const box = (xMm: number): number =>
      integrate((u) => gaussian(xMm - u, spot.alongMm / 4), -pitch.alongMm / 2, pitch.alongMm / 2, 48);
    const expected = Float64Array.from({ length: width * rows * samplesAcross }, (_, n) => {
      const xPx = sampleAt(n % width, samplesAlong);
      const yPx = sampleAt(Math.floor(n / width), samplesAcross);
      let sum = 0;
      for (let j = 0; j < rows; j++) {
        let line = 0;
        for (let i = 0; i < columns; i++) {
          const level = map[j * columns + i] / (levels - 1);
          if (level > 0) line += level * box((xPx - i) * pitch.alongMm);
        }
        sum += (line * pitch.acrossMm * gaussian((yPx - j) * pitch.acrossMm, spot.acrossMm / 4)) ** q;
      }
      return sum ** (1 / q);
    });
    expect(worstDifference(doseOf(plan, map, columns), expected)).toBeLessThan(3e-6);
    expect(doseOf(plan, map, columns, plainMemory)).toEqual(doseOf(plan, map, columns));
  });

  it("are a lone line as before, and a fill of less dose", () => {
    const lone = new Uint8Array(31 * 31).fill(1, 15 * 31, 16 * 31);
    expect(worstDifference(doseOf(planOf(2), lone, 31), doseOf(planOf(1), lone, 31))).toBeLessThan(1e-6);
    // Far above one line to a spot, Σ g^q · pitch^q is an integral: dose^q = pitch^(q−1) · q^(−1/2) · (2πσ²)^((1−q)/2).
    const q = 1.5;
    const [pitchMm, sigma] = [0.02, 0.05];
    const material = { curve, lineExponent: q };
    const fine = planExposure(square(pitchMm), round(4 * sigma), ideal, { material });
    const dose =
      (pitchMm ** (q - 1) * (2 * Math.PI * sigma ** 2) ** ((1 - q) / 2) * Math.sqrt(1 / q)) ** (1 / q);
    expect(solidLuminance({ plan: fine, response: curve })).toBeCloseTo(luminanceFactorAt(curve, dose), 5);
    // A fill at a power level has its share of the dose.
    const plan = planExposure(square(pitchMm), round(4 * sigma), ideal, { levels: 3, material });
    const half = levelLuminances({ plan, response: curve })[1];
    expect(half).toBeCloseTo(luminanceFactorAt(curve, dose / 2), 5);
  });

  it("are raised by table as by Math.pow", () => {
    const values = Float32Array.from({ length: 4000 }, (_, i) => (i === 0 ? 0 : 1.01 ** (i - 3000)));
    for (const exponent of [1.5, 4, 1 / 1.5, 0.25]) {
      const raised = values.slice();
      createRaiseRow(exponent)(raised);
      values.forEach((value, i) => {
        const wanted = value ** exponent;
        expect(Math.abs(raised[i] - wanted)).toBeLessThanOrEqual(4e-7 * wanted + 1e-37);
      });
    }
  });
});
