import { describe, expect, it } from "vitest";
import { deviationBetween } from "../../src/7-calibration/between-cards.js";
import type { LearntValue } from "../../src/7-calibration/calibration.js";
import { seededRandom } from "../../src/core/random.js";
import { normals } from "../support/normals.js";

/** A factor that is known well. */
const exactly = (value: number, error = 1e-6): LearntValue => ({
  ...{ value, low: value * Math.exp(-1.645 * error), high: value * Math.exp(1.645 * error) },
  learnt: true,
});

describe("variation from card to card", () => {
  it("is the standard deviation of the logarithms, with the band of χ²", () => {
    // Logarithms 0, 0.1, 0.2, 0.3 and 0.4: variance 0.025. χ² with 4 degrees: 0.7107 and 9.4877 (tables).
    const factors = [0.2, 0.1, 0.4, 0.3].map((log) => exactly(Math.exp(log)));
    const { value, low, high, learnt } = deviationBetween(factors, 0.08, 0.08);
    expect(learnt).toBe(true);
    expect(value).toBeCloseTo(Math.sqrt(0.025), 4);
    expect(low).toBeCloseTo(Math.sqrt(0.1 / 9.4877), 4);
    expect(high).toBeCloseTo(Math.sqrt(0.1 / 0.7107), 4);
  });

  it("uses the same points of χ² beyond the table: 15 degrees have 7.261 and 24.996", () => {
    const factors = Array.from({ length: 15 }, (_, k) => exactly(Math.exp(0.01 * (k + 1))));
    const { value, low, high } = deviationBetween(factors, 0.08, 0.08);
    expect(low).toBeCloseTo(value * Math.sqrt(15 / 24.996), 4);
    expect(high).toBeCloseTo(value * Math.sqrt(15 / 7.261), 4);
  });

  it("is not learnt from two or three cards, and not from one that nobody knows", () => {
    const believed = { value: 0.08, learnt: false };
    expect(deviationBetween([], 0.08, 0.08)).toMatchObject(believed);
    expect(deviationBetween([exactly(1.1)], 0.08, 0.08)).toMatchObject(believed);
    expect(deviationBetween([exactly(1.1), exactly(0.95)], 0.08, 0.08)).toMatchObject(believed);
    const unknown = { ...exactly(1), learnt: false };
    expect(deviationBetween([exactly(1.1), exactly(0.95), exactly(1.2), unknown], 0.08, 0.08)).toMatchObject(
      believed,
    );
  });

  it("is the same whatever was believed of the machine: the fit believed the usual", () => {
    const factors = [1.1, 0.95, 1.06, 0.9].map((factor) => exactly(factor, 0.04));
    const [careful, plain] = [0.02, 0.08].map((believed) => deviationBetween(factors, believed, 0.08));
    expect(careful.value).toBeCloseTo(plain.value, 12);
  });

  it("holds the truth nine times out of ten, with the error of each card taken off", () => {
    const [truth, error, tries] = [0.06, 0.03, 2000];
    const random = seededRandom(8);
    let held = 0;
    for (let n = 0; n < tries; n++) {
      const [first, ...others] = Array.from({ length: 6 }, () => {
        const [piece, reading] = normals(random);
        return truth * piece + error * reading;
      });
      // As a fit gives them: drawn towards 1 by a belief of 0.08 for each of two cards.
      const variance = 2 * error ** 2;
      const kept = 1 / (1 + variance / (2 * 0.08 ** 2));
      const factors = others.map((each) =>
        exactly(Math.exp(kept * (each - first)), Math.sqrt(kept * variance)),
      );
      const { low, high } = deviationBetween(factors, 0.08, 0.08);
      if (low <= truth && truth <= high) held++;
    }
    // Three standard deviations of the count are 0.02.
    expect(held / tries).toBeGreaterThan(0.87);
    expect(held / tries).toBeLessThan(0.94);
  });
});
