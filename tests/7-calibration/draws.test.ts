import { describe, expect, it } from "vitest";
import { bandOf } from "../../src/7-calibration/draws.js";
import { withLag } from "../../src/7-calibration/lag-profile.js";
import { deviationsOf, moveOf } from "../../src/7-calibration/least-squares-search.js";
import { patternDoses } from "../../src/7-calibration/pattern-doses.js";
import type { TrialBeam } from "../../src/7-calibration/trial-beam.js";
import { seededRandom } from "../../src/core/random.js";
import { normals } from "../support/normals.js";
import { named } from "./card-patterns.js";

it("a band leaves out 5 % of equally likely values on each side", () => {
  const values = Array.from({ length: 199 }, (_, n) => (77 * (n + 1)) % 200);
  expect(bandOf(values)).toEqual({ low: 10, high: 190 });
});

it("moves by normal deviates vary as linear least squares says: the inverse of the matrix of slopes", () => {
  const slopes = [Float64Array.of(1, 2, 0, 1), Float64Array.of(0, 1, 2, 1)];
  // By hand: the matrix of slopes is [6 3; 3 6], its inverse [6 −3; −3 6] / 27.
  expect(deviationsOf({ slopes })[0]).toBeCloseTo(Math.sqrt(6 / 27), 12);
  const random = seededRandom(5);
  const moves = Array.from({ length: 4000 }, () =>
    moveOf({ slopes }, Float64Array.of(...normals(random), ...normals(random))),
  );
  const mean = (of: (move: number[]) => number) =>
    moves.reduce((sum, move) => sum + of(move), 0) / moves.length;
  expect(mean(([a]) => a * a) / (6 / 27)).toBeCloseTo(1, 1);
  expect(mean(([, b]) => b * b) / (6 / 27)).toBeCloseTo(1, 1);
  expect(mean(([a, b]) => a * b) / (-3 / 27)).toBeCloseTo(1, 0);
});

describe("a beam with another lag that leaves almost the same", () => {
  const beam: TrialBeam = {
    ...{ alongMm: 0.1, acrossMm: 0.12, lossMm: 0.002, lagMm: 0.004, lineShiftMm: 0.01 },
    ...{ oneWay: false, lineExponent: 1 },
  };
  const pattern = {
    ...{ tile: named({ kind: "vernier", on: 6, off: 6, shift: 2 }).tile, levels: 2 },
    ...{ pitch: { alongMm: 0.025, acrossMm: 0.025 }, placesAlong: 48, placesAcross: 8 },
  };
  /** Where tone curves with dose, it follows the mean square of the dose. */
  const meanSquare = (each: TrialBeam) => {
    const doses = patternDoses(pattern, each);
    return doses.reduce((sum, dose) => sum + dose * dose, 0) / doses.length;
  };

  it("is the same beam if the lag is the same", () => {
    expect(withLag(beam, 0.004)).toEqual(beam);
    const back = withLag(withLag(beam, 0.009), 0.004);
    expect(back.alongMm).toBeCloseTo(0.1, 12);
    expect(back.lineShiftMm).toBeCloseTo(0.01, 12);
  });

  it("has the second moment of the lines: variances of spot and lag add", () => {
    const other = withLag(beam, 0.015);
    expect((other.alongMm / 4) ** 2 + 0.015 ** 2).toBeCloseTo((0.1 / 4) ** 2 + 0.004 ** 2, 12);
  });

  it("leaves the tone of displaced dashes, which the lag alone would change twenty times as much", () => {
    const change = (each: TrialBeam) => Math.abs(meanSquare(each) - meanSquare(beam));
    expect(20 * change(withLag(beam, 0.008))).toBeLessThan(change({ ...beam, lagMm: 0.008 }));
  });
});
