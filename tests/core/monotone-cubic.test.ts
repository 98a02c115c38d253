import { describe, expect, it } from "vitest";
import { intervalOf, monotoneCubic } from "../../src/core/monotone-cubic.js";
import { seededRandom } from "../../src/core/random.js";
import { askReference, hasReference } from "../support/reference.js";

interface Case {
  readonly x: number[];
  readonly y: number[];
  readonly at: number[];
}

/** A table of `points` random points with a flat stretch now and then, and places to look: knots, between, beyond. */
function randomCase(random: () => number, points: number, monotone: boolean): Case {
  const x = [random() - 0.5];
  const y = [random()];
  for (let i = 1; i < points; i++) {
    x.push(x[i - 1] + 0.01 + random());
    const step = random() < 0.2 ? 0 : random();
    y.push(monotone ? y[i - 1] - step : random());
  }
  const span = x[points - 1] - x[0];
  const at = [...x, ...Array.from({ length: 40 }, (_, i) => x[0] + ((i - 4) / 32) * span)];
  return { x, y, at };
}

describe("monotone cubic", () => {
  it.skipIf(!hasReference())("agrees with SciPy's PchipInterpolator on 120 random tables", () => {
    const random = seededRandom(11);
    const cases = Array.from({ length: 120 }, (_, i) => randomCase(random, 2 + (i % 10), i % 2 === 0));
    const references = askReference<number[][]>("scipy_values.py", { task: "pchip", cases });
    cases.forEach(({ x, y, at }, n) => {
      const curve = monotoneCubic(x, y);
      at.forEach((place, i) => {
        expect(Math.abs(curve(place) - references[n][i]), `table ${n} at ${place}`).toBeLessThan(1e-12);
      });
    });
  });

  it("is a straight line through two points, and one value through one", () => {
    const line = monotoneCubic([1, 3], [10, 20]);
    expect(line(1.5)).toBeCloseTo(12.5, 12);
    expect(line(2.9)).toBeCloseTo(19.5, 12);
    expect(monotoneCubic([5], [7])(-100)).toBe(7);
  });

  it("stays at its end values beyond both ends", () => {
    const curve = monotoneCubic([0, 1, 4], [3, 1, 0.5]);
    expect([curve(-1), curve(0), curve(4), curve(1e9)]).toEqual([3, 3, 0.5, 0.5]);
  });

  it("has the slope 1.5 between equal steps with secants 1 and 3: their harmonic mean (Fritsch & Butland 1984)", () => {
    const curve = monotoneCubic([0, 1, 2], [0, 1, 4]);
    expect((curve(1 + 1e-6) - curve(1 - 1e-6)) / 2e-6).toBeCloseTo(1.5, 5);
  });

  it("has the three-point end slope where that keeps the shape, 0 where it would turn, 3 secants where it would overshoot", () => {
    const startSlope = (y: number[]) => (monotoneCubic([0, 1, 2], y)(1e-7) - y[0]) / 1e-7;
    // Moler, Numerical Computing with MATLAB (2004), section 3.6: ((2h + h)·s₀ − h·s₁)/2h = 1.5·s₀ − 0.5·s₁.
    expect(startSlope([0, 1, 3])).toBeCloseTo(0.5, 5);
    expect(startSlope([0, 1, 6])).toBeCloseTo(0, 5);
    expect(startSlope([0, 1, -9])).toBeCloseTo(3, 5);
  });

  it("never turns where its table does not", () => {
    const random = seededRandom(12);
    for (let n = 0; n < 50; n++) {
      const { x, y } = randomCase(random, 7, true);
      const curve = monotoneCubic(x, y);
      let before = curve(x[0]);
      for (let i = 1; i <= 500; i++) {
        const value = curve(x[0] + ((x[6] - x[0]) * i) / 500);
        expect(value).toBeLessThanOrEqual(before + 1e-14);
        before = value;
      }
    }
  });

  it("finds the interval of a place", () => {
    const x = [0, 1, 1.5, 4, 9];
    expect([0, 0.5, 1, 1.4, 1.5, 8.9].map((at) => intervalOf(x, at))).toEqual([0, 0, 1, 1, 2, 3]);
  });
});
