import { describe, expect, it } from "vitest";
import { isotonicRegression } from "../../src/core/isotonic.js";
import { seededRandom } from "../../src/core/random.js";

/**
 * Least squares by trying every division into blocks of equal value: the optimum is constant on blocks, each at its mean,
 * so the optimum is the best rising one among them (Robertson, Wright & Dykstra, Order Restricted Statistical Inference, 1988).
 */
function bruteForce(values: readonly number[]): number[] {
  let best: number[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let cuts = 0; cuts < 2 ** (values.length - 1); cuts++) {
    const fit: number[] = [];
    for (let from = 0; from < values.length; ) {
      let to = from + 1;
      while (to < values.length && ((cuts >> (to - 1)) & 1) === 0) to++;
      const mean = values.slice(from, to).reduce((sum, value) => sum + value, 0) / (to - from);
      while (fit.length < to) fit.push(mean);
      from = to;
    }
    const rises = fit.every((value, i) => i === 0 || value >= fit[i - 1]);
    const squares = fit.reduce((sum, value, i) => sum + (value - values[i]) ** 2, 0);
    if (rises && squares < least) [best, least] = [fit, squares];
  }
  return best;
}

describe("isotonic regression", () => {
  it("is the best rising fit, against every other", () => {
    const random = seededRandom(3);
    for (let n = 0; n < 60; n++) {
      const values = Array.from({ length: 1 + (n % 9) }, () => Math.round(random() * 8));
      const fit = [...isotonicRegression(values)];
      const expected = bruteForce(values);
      expect(fit.length).toBe(expected.length);
      expected.forEach((value, i) => {
        expect(fit[i], `${values}`).toBeCloseTo(value, 12);
      });
    }
  });

  it("pools what falls into its mean", () => {
    expect([...isotonicRegression([4, 3, 2, 1])]).toEqual([2.5, 2.5, 2.5, 2.5]);
    expect([...isotonicRegression([1, 3, 2, 4, 3.5, 3.5, 6])]).toEqual([
      1,
      2.5,
      2.5,
      11 / 3,
      11 / 3,
      11 / 3,
      6,
    ]);
  });

  it("leaves alone what rises already, and does not touch its input", () => {
    const rising = [-1, 0, 0, 2, 2.5];
    expect([...isotonicRegression(rising)]).toEqual(rising);
    const values = Float64Array.of(3, 1);
    isotonicRegression(values);
    expect([...values]).toEqual([3, 1]);
    expect(isotonicRegression([]).length).toBe(0);
  });
});
