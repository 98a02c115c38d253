import { describe, expect, it } from "vitest";
import { lookUpProbit, probitTable } from "../../src/4-artwork/probit.js";

const table = probitTable();

describe("distance from an edge by blurred coverage", () => {
  // Quantiles of the normal distribution: Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 26.5.
  it.each([
    [0.5, 0],
    [0.6, 0.253347],
    [0.75, 0.67449],
    [0.9, 1.281552],
    [0.975, 1.959964],
    [0.99, 2.326348],
    [0.995, 2.575829],
    [0.999, 3.090232],
  ])("%d lies %d standard deviations inside, and what it lacks to 1 as far outside", (coverage, z) => {
    expect(Math.abs(lookUpProbit(table, coverage) - z)).toBeLessThan(5e-4);
    expect(Math.abs(lookUpProbit(table, 1 - coverage) + z)).toBeLessThan(5e-4);
  });

  it("goes on to the ends without a jump, and is a number there", () => {
    expect(lookUpProbit(table, 0)).toBeLessThan(-3.5);
    expect(lookUpProbit(table, 1)).toBeGreaterThan(3.5);
    expect(Number.isFinite(lookUpProbit(table, 1))).toBe(true);
    for (let i = 1; i < table.length; i++) expect(table[i]).toBeGreaterThanOrEqual(table[i - 1]);
  });
});
