import { describe, expect, it } from "vitest";
import { gaussianBlur, gaussianTaps } from "../../src/core/gaussian-blur.js";
import { seededRandom } from "../../src/core/random.js";
import { askReference, hasReference } from "../support/reference.js";

const columns = 37;
const rows = 23;

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

  it("writes into the plane it is given, and does not touch its source", () => {
    const plane = randomPlane();
    const before = plane.slice();
    const out = new Float32Array(plane.length).fill(9);
    expect(gaussianBlur(plane, columns, rows, 1.2, 0.8, out)).toBe(out);
    expect([...plane]).toEqual([...before]);
    expect([...out]).toEqual([...gaussianBlur(plane, columns, rows, 1.2, 0.8)]);
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
