import { describe, expect, it } from "vitest";
import { blurredRows, gaussianTaps } from "../../src/core/gaussian-blur.js";
import { createKernelMemory, type KernelForm } from "../../src/core/kernel-memory.js";
import { planeOfRows } from "../../src/core/plane-rows.js";
import { seededRandom } from "../../src/core/random.js";
import { askReference, hasReference } from "../support/reference.js";

const columns = 37;
const rows = 23;

function gaussianBlur(
  plane: Float32Array,
  columns: number,
  rows: number,
  sigmaAlongPx: number,
  sigmaAcrossPx: number,
  form: KernelForm = "simd",
  valuesPerPixel = 1,
): Float32Array {
  const memory = createKernelMemory(form);
  const shape = { columns, rows, sigmaAlongPx, sigmaAcrossPx, valuesPerPixel, gain: 1 };
  const values = columns * valuesPerPixel;
  const row = memory.float32(values);
  const source = (y: number): Float32Array => {
    row.set(plane.subarray(y * values, (y + 1) * values));
    return row;
  };
  return planeOfRows(blurredRows(memory, shape, source), values, rows);
}

function randomPlane(): Float32Array {
  const random = seededRandom(5);
  return Float32Array.from({ length: columns * rows }, () => random());
}

describe("Gaussian blur", () => {
  it("leaves a constant as it is, up to its edges", () => {
    const blurred = gaussianBlur(new Float32Array(columns * rows).fill(0.37), columns, rows, 2.3, 4.1);
    for (const value of blurred) expect(Math.abs(value - 0.37)).toBeLessThan(2e-7);
  });

  it("is the identity for σ = 0, in one direction or both", () => {
    const plane = randomPlane();
    expect([...gaussianBlur(plane, columns, rows, 0, 0)]).toEqual([...plane]);
    const impulse = new Float32Array(columns * rows);
    impulse[11 * columns + 18] = 1;
    const along = gaussianBlur(impulse, columns, rows, 1.5, 0);
    for (let i = 0; i < along.length; i++) {
      if (Math.floor(i / columns) !== 11) expect(along[i]).toBe(0);
    }
  });

  it.each([0.6, 1, 2.5, 7])(
    "spreads an impulse to the variance σ² and keeps its sum and centre, σ = %d px",
    (sigma) => {
      const side = 81;
      const impulse = new Float32Array(side * side);
      impulse[40 * side + 40] = 1;
      const blurred = gaussianBlur(impulse, side, side, sigma, 2);
      let sum = 0;
      let first = 0;
      let second = 0;
      blurred.forEach((value, i) => {
        const x = (i % side) - 40;
        sum += value;
        first += value * x;
        second += value * x * x;
      });
      expect(Math.abs(sum - 1)).toBeLessThan(1e-6);
      expect(Math.abs(first)).toBeLessThan(1e-5);
      // Cutting at 4σ takes up to 0.12 % of the variance; sampling changes it by 4π²σ²·exp(−2π²σ²)·2 (Poisson), 2 % at 0.6.
      expect(Math.abs(second / sigma ** 2 - 1)).toBeLessThan(sigma < 1 ? 0.025 : 0.0015);
    },
  );

  it("has normalised, symmetric taps that fall", () => {
    const taps = gaussianTaps(1.7);
    expect(taps.length).toBe(15);
    expect(taps.reduce((sum, tap) => sum + tap, 0)).toBeCloseTo(1, 14);
    for (let k = 0; k < 7; k++) {
      expect(taps[k]).toBe(taps[14 - k]);
      expect(taps[k]).toBeLessThan(taps[k + 1]);
    }
  });

  it.each([
    [0, 0],
    [0.5, 1],
    [2.3, 0.4],
    [1.1, 9.9],
  ])("gives the same bits with and without SIMD, σ = %d × %d px", (along, across) => {
    const plane = randomPlane();
    const plain = gaussianBlur(plane, columns, rows, along, across, "plain");
    expect(gaussianBlur(plane, columns, rows, along, across)).toEqual(plain);
  });

  it("blurs values side by side each for itself", () => {
    const [one, other] = [randomPlane(), randomPlane().reverse()];
    const both = Float32Array.from({ length: 2 * one.length }, (_, i) => (i % 2 ? other : one)[i >> 1]);
    for (const form of ["plain", "simd"] as const) {
      const blurred = gaussianBlur(both, columns, rows, 1.3, 2.1, form, 2);
      expect(blurred.filter((_, i) => i % 2 === 0)).toEqual(gaussianBlur(one, columns, rows, 1.3, 2.1));
      expect(blurred.filter((_, i) => i % 2 === 1)).toEqual(gaussianBlur(other, columns, rows, 1.3, 2.1));
    }
  });

  it("can start anywhere, and multiplies by its gain", () => {
    const plane = randomPlane();
    const shape = { columns, rows, sigmaAlongPx: 1, sigmaAcrossPx: 1.5, valuesPerPixel: 1, gain: 0.25 };
    const memory = createKernelMemory("plain");
    const source = (y: number): Float32Array => plane.subarray(y * columns, (y + 1) * columns);
    const row = blurredRows(memory, shape, source);
    const whole = gaussianBlur(plane, columns, rows, 1, 1.5);
    for (const y of [9, 10, 22, 3, 4, 0]) {
      row(y).forEach((value, x) => {
        expect(value).toBeCloseTo(whole[y * columns + x] / 4, 6);
      });
    }
  });

  it.skipIf(!hasReference())("agrees with SciPy's gaussian_filter, edges continued", () => {
    // Widths whose cut at 4σ falls on the same pixel in both: up to the next whole pixel here, to the nearest there.
    const sigmas = [
      [0.4, 0.7],
      [1.2, 2.5],
      [6, 1],
      [0.2, 9.9],
    ];
    const pixels = randomPlane();
    const references = askReference<number[][]>("scipy_values.py", {
      task: "gaussian",
      columns,
      rows,
      pixels: [...pixels],
      sigmas,
    });
    sigmas.forEach(([along, across], n) => {
      const blurred = gaussianBlur(pixels, columns, rows, along, across);
      const worst = Math.max(...blurred.map((value, i) => Math.abs(value - references[n][i])));
      // Single precision: each of up to 81 lines added rounds by up to 6e-8.
      expect(worst, `σ ${along} × ${across}`).toBeLessThan(1e-6);
    });
  });
});
