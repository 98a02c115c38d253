import { describe, expect, it } from "vitest";
import { DEFAULT_SPREAD } from "../../../src/core/spread.js";
import { fieldShares, plannedRuns } from "../../../src/pipeline/judge/variation-runs.js";

const spot = { alongMm: 0.1, acrossMm: 0.2 };

describe("the runs of a spread", () => {
  it("are the nominal dose, the common doses, which serve for the slope too, and two spots", () => {
    const { doses, spots, runs } = plannedRuns(DEFAULT_SPREAD, spot);
    expect(doses).toEqual([1, 0.92, 1.08]);
    expect(spots.map(({ alongMm }) => alongMm)).toEqual([0.95 * 0.1, 1.05 * 0.1]);
    expect(spots.map(({ acrossMm }) => acrossMm)).toEqual([0.95 * 0.2, 1.05 * 0.2]);
    expect(runs).toEqual({ common: [1, 2], slope: { first: 1, factors: [0.92, 1.08] }, spot: [3, 4] });
  });

  it("have doses of their own for the slope, at the nodes of a Gaussian, if the common part is much larger", () => {
    // Nodes of the three-point Gauss–Hermite rule: 0 and ±√3 σ (Abramowitz & Stegun, table 25.10, scaled to the normal density).
    const { doses, runs } = plannedRuns({ ...DEFAULT_SPREAD, common: 0.2, local: 0.01, line: 0.02 }, spot);
    const node = Math.sqrt(3) * 0.02;
    expect(doses).toEqual([1, 0.8, 1.2, 1 - node, 1 + node]);
    expect(runs.slope).toEqual({ first: 3, factors: [1 - node, 1 + node] });
    expect(runs.spot).toEqual([5, 6]);
  });

  it("leave out parts that do not vary", () => {
    const { doses, spots, runs } = plannedRuns({ ...DEFAULT_SPREAD, common: 0, spot: 0 }, spot);
    expect(doses.length).toBe(3);
    expect(spots).toEqual([]);
    expect(runs.common).toBeUndefined();
    expect(runs.spot).toBeUndefined();
    expect(runs.slope.first).toBe(1);
  });

  it("never have steps that vanish in the rounding", () => {
    const hardly = { ...DEFAULT_SPREAD, common: 1e-17, local: 0, line: 1e-17, spot: 0 };
    const { runs } = plannedRuns(hardly, spot);
    expect(runs.slope.factors[0]).toBeLessThanOrEqual(0.999);
    expect(runs.slope.factors[1]).toBeGreaterThanOrEqual(1.001);
  });

  it("have some slope even on a machine that never varies", () => {
    const steady = { ...DEFAULT_SPREAD, common: 0, local: 0, line: 0, spot: 0 };
    const [under, over] = plannedRuns(steady, spot).runs.slope.factors;
    expect(under).toBeLessThan(1);
    expect(over).toBeGreaterThan(1);
  });
});

describe("what fields of dose do to a piece", () => {
  const options = {
    pitch: { alongMm: 0.04, acrossMm: 0.07 },
    spot: { alongMm: 0.09, acrossMm: 0.14 },
    spread: DEFAULT_SPREAD,
    viewDistanceMm: 300,
  };

  it("takes lines across the piece: its height, the pitch and the spot across", () => {
    const { line } = fieldShares(options, { widthMm: 30, heightMm: 70 });
    // 1000 lines that hardly reach beyond the piece: their mean keeps a thousandth of the variance.
    expect(line.average).toBeCloseTo(1e-3, 5);
    // Lines of this overlap: Σw²/(Σw)² of Gaussians 0.07 mm apart with σ = 0.035 mm, over all phases.
    const weights = (phase: number) =>
      Array.from({ length: 41 }, (_, k) => Math.exp(-0.5 * ((0.07 * (k - 20 + phase)) / 0.035) ** 2));
    const shares = Array.from({ length: 400 }, (_, n) => {
      const line = weights(n / 400);
      const sum = line.reduce((total, weight) => total + weight, 0);
      return { square: line.reduce((total, weight) => total + weight ** 2, 0), sum };
    });
    const mean = (value: (share: (typeof shares)[number]) => number) =>
      shares.reduce((total, share) => total + value(share), 0) / shares.length;
    // The mid-tone of a wider spot, of which half the lines burn; this spot gives a point the dose of hardly more than one.
    expect(line.point).toBe(1);
    const wide = fieldShares(
      { ...options, spot: { alongMm: 0.09, acrossMm: 0.56 } },
      { widthMm: 30, heightMm: 70 },
    );
    const solid = mean(({ square }) => square) / mean(({ sum }) => sum) ** 2;
    expect(wide.line.point).toBeCloseTo((2 * solid) / 4, 6);
  });

  it("takes the local part over the whole piece, wide or high", () => {
    const wide = fieldShares(options, { widthMm: 100, heightMm: 1 }).local;
    const high = fieldShares(options, { widthMm: 1, heightMm: 100 }).local;
    expect(wide.average).toBeCloseTo(high.average, 12);
    // A strip of 100 mm: about √π·ℓ/100 of the variance, and nearly all of what is across 1 mm.
    expect(wide.average).toBeGreaterThan(0.9 * ((Math.sqrt(Math.PI) * 2) / 100) * 0.95);
    expect(wide.average).toBeLessThan((Math.sqrt(Math.PI) * 2) / 100);
  });

  it("are seen less from further away", () => {
    const [near, far] = [300, 900].map((viewDistanceMm) =>
      fieldShares({ ...options, viewDistanceMm }, { widthMm: 30, heightMm: 70 }),
    );
    expect(far.local.seen).toBeLessThan(near.local.seen);
    expect(far.line.seen).toBeLessThan(near.line.seen);
  });
});
