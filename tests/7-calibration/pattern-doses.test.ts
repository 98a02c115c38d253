import { beforeAll, describe, expect, it } from "vitest";
import { patternDoses, periodRows } from "../../src/7-calibration/pattern-doses.js";
import { type TrialBeam, trialBeam } from "../../src/7-calibration/trial-beam.js";
import type { PatternTile } from "../../src/core/pattern-tile.js";
import { seededRandom } from "../../src/core/random.js";
import { hasReference } from "../support/reference.js";
import { type NamedTile, named } from "./card-patterns.js";
import { bruteDoses, roundGuess, type TileMeans, type Truth } from "./virtual-card.js";

const PITCH_MM = 0.025;
const round: TrialBeam = {
  ...{ alongMm: 0.1, acrossMm: 0.1, lossMm: 0, lagMm: 0, lineShiftMm: 0 },
  ...{ oneWay: false, lineExponent: 1, others: [] },
};

function dosesOf(tile: PatternTile, beam: TrialBeam, perPixel: readonly [number, number], levels = 2) {
  const rows = periodRows(tile, beam.oneWay);
  return patternDoses(
    {
      ...{ tile, levels, pitch: { alongMm: PITCH_MM, acrossMm: PITCH_MM } },
      ...{ placesAlong: tile.columns * perPixel[0], placesAcross: rows * perPixel[1] },
    },
    beam,
  );
}

const sum = (values: Iterable<number>) => [...values].reduce((total, value) => total + value, 0);

const lines = (on: number, period: number) => named({ kind: "lines", on, period });
const dashes = (on: number, off: number, linePeriod = 1) =>
  named({ kind: "dashes", on, off, step: 0, linePeriod });

/** Amplitude of the first harmonic of the dose of a tile of one column or one row, over the mean. */
function ripple(tile: PatternTile): number {
  const doses = dosesOf(tile, { ...round, oneWay: true }, [tile.columns === 1 ? 1 : 16, 16]);
  const alike = tile.columns === 1 ? 1 : 16;
  const length = tile.columns === 1 ? doses.length : doses.length / alike;
  const harmonic = (wave: (phase: number) => number) =>
    sum(doses.subarray(0, length).map((dose, i) => dose * wave((2 * Math.PI * i) / length)));
  return (2 * Math.hypot(harmonic(Math.cos), harmonic(Math.sin))) / sum(doses.subarray(0, length));
}

describe("ripple of fine patterns at four lines to a spot, by the first harmonic of a Gaussian: 2·exp(−2π²σ²/period²)", () => {
  const gaussian = (periodMm: number) => 2 * Math.exp(-2 * Math.PI ** 2 * (0.025 / periodMm) ** 2);

  it("every other line: 1.4 %", () => {
    expect(ripple(lines(1, 2).tile)).toBeCloseTo(gaussian(0.05), 9);
    expect(gaussian(0.05)).toBeCloseTo(0.0144, 4);
  });

  // A burst is a box along the line: its harmonic is weaker by sin(π·share) / (π·share).
  it("1 of 2 pixels along a line: 0.9 %", () => {
    expect(ripple(dashes(1, 1).tile)).toBeCloseTo(gaussian(0.05) * (2 / Math.PI), 9);
  });

  it("2 of 3 pixels along a line: 9 % at the peak", () => {
    const angle = (2 * Math.PI) / 3;
    expect(ripple(dashes(2, 1).tile)).toBeCloseTo((gaussian(0.075) * Math.sin(angle)) / angle, 9);
    expect(ripple(dashes(2, 1).tile)).toBeGreaterThan(0.08);
  });
});

/** Patterns of every kind, and random ones with an even and an odd number of rows. */
const random = seededRandom(3);
const noise = (columns: number, rows: number, levels: number): NamedTile => ({
  id: `random ${columns} × ${rows}`,
  tile: {
    ...{ columns, rows },
    codes: Uint8Array.from({ length: columns * rows }, () => Math.floor(random() * levels)),
  },
});
const tiles = [
  ...[lines(2, 6), dashes(3, 5), dashes(4, 4, 2), named({ kind: "checks", side: 4 })],
  ...[named({ kind: "dots", side: 1, period: 3 }), named({ kind: "holes", side: 2, period: 6 })],
  named({ kind: "vernier", on: 4, off: 4, shift: 2 }),
];
const solid: NamedTile = { id: "solid", tile: { columns: 1, rows: 1, codes: Uint8Array.of(1) } };

const ideal: Truth = {
  ...{ spotAlongMm: 0.08, spotAcrossMm: 0.12 },
  response: [
    [0, 1],
    [2, 0],
  ],
};

const cases: readonly (readonly [name: string, changes: Partial<Truth>, levels: number])[] = [
  ["an ideal beam", {}, 2],
  ["a fine spot: gaps between lines", { spotAlongMm: 0.03, spotAcrossMm: 0.026 }, 2],
  ["a firing loss of 0.8 pixels", { firingLossUs: 67 }, 2],
  ["a firing loss of 1.2 pixels: lone pixels are gone", { firingLossUs: 100 }, 2],
  ["a source that stops late", { firingLossUs: -60 }, 2],
  ["a source that stops so late that gaps close", { firingLossUs: -190 }, 2],
  ["a lag", { firingLagUs: 70 }, 2],
  ["shifted lines", { lineShiftMm: 0.031 }, 2],
  ["all faults", { firingLossUs: 20, firingLagUs: 40, lineShiftMm: -0.02 }, 2],
  ["one way", { firingLossUs: 20, firingLagUs: 40, oneWay: true }, 2],
  ["lines that do not add", { lineExponent: 1.4, firingLagUs: 30 }, 2],
  ["power levels", { firingLossUs: 50, firingLagUs: 20, lineShiftMm: 0.01 }, 5],
  ["power levels of a source that stops late", { firingLossUs: -50, firingLagUs: 20 }, 5],
];

/** Full power is the last level. */
const inLevels = (levels: number): NamedTile[] => [
  ...[...tiles, solid].map(({ id, tile }) => ({
    id,
    tile: { ...tile, codes: tile.codes.map((code) => code * (levels - 1)) },
  })),
  ...[noise(7, 4, levels), noise(9, 3, levels)],
];

describe.skipIf(!hasReference())(
  "doses are those of the pattern repeated many times and burned by brute force",
  () => {
    const burned = cases.map(([, changes, levels]) => ({
      truth: { ...ideal, ...changes },
      levels,
      tiles: inLevels(levels),
    }));
    let brute: TileMeans[][] = [];
    beforeAll(() => {
      brute = bruteDoses(PITCH_MM, burned);
    });

    it.each(cases.map(([name], n) => [name, n] as const))("%s", (_, n) => {
      const { truth, levels, tiles: each } = burned[n];
      const motion = { ...roundGuess.motion, ...truth };
      const spot = { alongMm: truth.spotAlongMm, acrossMm: truth.spotAcrossMm };
      const beam = trialBeam(spot, motion, truth.lineExponent ?? 1);
      expect(brute[n]).toHaveLength(each.length);
      brute[n].forEach(({ doses = [] }, k) => {
        const { id, tile } = each[k];
        const perPixel = [
          doses[0].length / tile.columns,
          doses.length / periodRows(tile, beam.oneWay),
        ] as const;
        const ours = dosesOf(tile, beam, perPixel, levels);
        expect(ours.length).toBe(doses.flat().length);
        const worst = doses.flat().reduce((most, dose, i) => Math.max(most, Math.abs(dose - ours[i])), 0);
        // The brute force leaves out what lies six standard deviations away.
        expect(worst, id).toBeLessThan(1e-7);
      });
    });
  },
);
