import { Matrix, solve } from "ml-matrix";
import { expect, it } from "vitest";
import { covarianceOf, LENGTHS_MM, type PatchVariances } from "../../src/7-calibration/local-variation.js";
import { offsetsByNeighbours } from "../../src/7-calibration/neighbour-offsets.js";
import { blotchCovariance, SHARED, sharedCovariances } from "../../src/7-calibration/patch-covariance.js";
import type { VariedCard, VariedPatch } from "../../src/7-calibration/varied-patch.js";
import { seededRandom } from "../../src/core/random.js";
import { cardsByNeighbours } from "../../src/pipeline/calibration/card-pictures.js";
import { normals } from "../support/normals.js";

const STEP_MM = 3.5;
const grid = {
  ...{ widthMm: 2.25, heightMm: 2.25, waveHeightMm: 2.25, stepMm: STEP_MM, pitchMm: 0.025 },
  ...{ spotMm: 0.1, pixelMm: 0.03 },
};

/** Patches on a square, with one of five patterns each. */
function cardOf(side: number, offsetAt: (xMm: number, yMm: number, gain: number, k: number) => number) {
  const patches: VariedPatch[] = Array.from({ length: side * side }, (_, k) => {
    const [xMm, yMm] = [STEP_MM * (k % side), STEP_MM * Math.floor(k / side)];
    const kind = (7 * k + Math.floor(k / side)) % 5;
    const gain = -0.5 * kind;
    const waves = new Float64Array(12);
    const lines = Float64Array.of(1);
    return {
      patch: k,
      pattern: `${kind}`,
      xMm,
      yMm,
      gain,
      lines,
      waves,
      offset: offsetAt(xMm, yMm, gain, k),
    };
  });
  return { grid, patches } satisfies VariedCard;
}

const variancesOf = (local: number, own: number): PatchVariances => ({
  local: local ** 2,
  length: LENGTHS_MM.findIndex((mm) => mm > 5),
  shared: Float64Array.from(SHARED, (name) => (name === "own" ? own ** 2 : name === "pattern" ? 1e-5 : 0)),
});

it("are the best linear prediction from all other patterns, as normal equations by ml-matrix have it", () => {
  const random = seededRandom(3);
  const card = cardOf(5, () => 0.1 * normals(random)[0]);
  const variances = variancesOf(0.05, 0.02);
  const { patches } = card;
  const blotches = LENGTHS_MM.map((mm) => blotchCovariance(patches, grid, mm));
  const packed = covarianceOf({ blotches, shared: sharedCovariances(patches, grid) }, variances);
  const covariance = (i: number, j: number): number =>
    packed[(Math.max(i, j) * (Math.max(i, j) + 1)) / 2 + Math.min(i, j)] + (i === j ? 1e-6 : 0);
  const predicted = offsetsByNeighbours(card, variances);
  for (const [k, { pattern }] of patches.entries()) {
    const others = patches.flatMap((each, n) => (each.pattern === pattern ? [] : [n]));
    const matrix = new Matrix(others.map((a) => others.map((b) => covariance(a, b))));
    const weights = solve(matrix, Matrix.columnVector(others.map((a) => covariance(a, k)))).getColumn(0);
    const wanted = weights.reduce((sum, weight, n) => sum + weight * patches[others[n]].offset, 0);
    expect(predicted[k]).toBeCloseTo(wanted, 10);
  }
});

it("take a wide blotch off, and leave alone what a pattern has to itself", () => {
  const blotch = (xMm: number, yMm: number) => 0.05 * Math.sin(xMm / 5) * Math.cos(yMm / 6);
  const shared = cardOf(8, (xMm, yMm, gain) => gain * blotch(xMm, yMm));
  const left = (card: VariedCard): number[] => {
    const predicted = offsetsByNeighbours(card, variancesOf(0.04, 0.005));
    return card.patches.map(({ offset }, k) => offset - predicted[k]);
  };
  const rms = (values: readonly number[]): number =>
    Math.sqrt(values.reduce((sum, each) => sum + each ** 2, 0) / values.length);
  expect(rms(left(shared))).toBeLessThan(0.25 * rms(shared.patches.map(({ offset }) => offset)));
  // One pattern that fits badly everywhere says nothing of the dose.
  const misfit = cardOf(8, (_, __, gain) => (gain === -1 ? 0.03 : 0));
  const own = left(misfit).filter((_, k) => misfit.patches[k].gain === -1);
  expect(Math.min(...own)).toBeGreaterThan(0.02);
});

it("bring the readings of a pattern together where a blotch drew them apart", () => {
  const card = cardOf(8, (xMm, yMm, gain) => gain * 0.05 * Math.sin(xMm / 5) * Math.cos(yMm / 6));
  const read = card.patches.map(({ offset, gain }) => (0.4 + 0.1 * gain) * Math.exp(offset));
  // One patch is spoilt: nothing is known of it.
  const patches = card.patches.filter(({ patch }) => patch !== 20);
  const cards = [{ luminance: Float64Array.from(read) }];
  const [{ luminance }] = cardsByNeighbours(cards, [{ grid, patches }], variancesOf(0.04, 0.005));
  const spreadOf = (values: ArrayLike<number>): number => {
    const own = patches.filter(({ gain }) => gain === -2).map(({ patch }) => values[patch]);
    return Math.max(...own) - Math.min(...own);
  };
  expect(spreadOf(luminance)).toBeLessThan(0.4 * spreadOf(read));
  expect(luminance[20]).toBe(read[20]);
  expect(cards[0].luminance[0]).toBe(read[0]);
});
