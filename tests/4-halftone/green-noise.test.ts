import { describe, expect, it } from "vitest";
import { findHalftoneMethod } from "../../src/4-halftone/halftone.js";
import { seededRandom } from "../../src/core/random.js";
import { exact } from "../reference/arithmetic.js";
import { diffuseGreenNoise } from "../reference/textbook-diffusion.js";
import { meanClusterSize } from "../support/clusters.js";
import { halftoneBits } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { publishedTable } from "../support/halftone-tables.js";
import { meanPower, radialPower } from "../support/radial-power.js";

/** The size of patch that the table was measured on. */
const COLUMNS = 512;
const ROWS = 448;

const method = findHalftoneMethod("green-noise");

function patch(fraction: number, clumping: number): Uint8Array {
  const plane = new Float32Array(COLUMNS * ROWS).fill(fraction);
  return halftoneBits(method, plane, COLUMNS, ROWS, halftoneSettings({ clumping }));
}

/** By the textbook engine, with weights that jitter by a share of what ours do. */
function patchWithJitter(fraction: number, clumping: number, jitter: number): Uint8Array {
  const random = seededRandom(1);
  const squeezed = () => 0.5 + jitter * (random() - 0.5);
  const nextRow = diffuseGreenNoise(clumping, COLUMNS, "serpentine", exact, squeezed);
  const tint = new Float32Array(COLUMNS).fill(fraction);
  const bits = new Uint8Array(COLUMNS * ROWS);
  for (let y = 0; y < ROWS; y++) nextRow(tint, y, bits.subarray(y * COLUMNS, (y + 1) * COLUMNS));
  return bits;
}

const clusterSize = (bits: Uint8Array) => meanClusterSize(bits, COLUMNS, ROWS);

const measured = publishedTable<{ measured_mean_cluster_size: Readonly<Record<string, readonly number[]>> }>(
  "green-noise/levien-1993",
).measured_mean_cluster_size;
/** Past 2 a cluster grows without end, and the option stops there. */
const feedbacks = measured.h.filter((h) => h <= 2);

describe.each([
  [0.05, "g=0.05"],
  [0.1, "g=0.10"],
  [0.25, "g=0.25"],
])("mean cluster at a tint of %f", (fraction, key) => {
  const own = feedbacks.map((clumping) => clusterSize(patch(fraction, clumping)));

  it("grows with clumping", () => {
    for (let i = 1; i < own.length; i++) expect(own[i]).toBeGreaterThan(own[i - 1]);
  });

  /*
   * The table was measured on Levien's form with a tenth of weight jitter and the output fed back uncentred. On a flat
   * tint centring only moves the threshold, which changes nothing; squeezing the random numbers to a fifth of their range
   * makes our jitter of one half a tenth.
   */
  it("is that of the table when the weights are jittered as there", () => {
    feedbacks.forEach((clumping, i) => {
      const size = clusterSize(patchWithJitter(fraction, clumping, 0.2));
      expect(Math.abs(size / measured[key][i] - 1)).toBeLessThan(0.15);
    });
  });

  it("stays within a third of the table at our own jitter", () => {
    own.forEach((size, i) => {
      expect(Math.abs(size / measured[key][i] - 1)).toBeLessThan(1 / 3);
    });
  });

  it("is as large for the blanks of the negative", () => {
    const blanks = patch(1 - fraction, 1.5).map((bit) => 1 - bit);
    expect(clusterSize(blanks) / clusterSize(patch(fraction, 1.5))).toBeCloseTo(1, 1);
  });
});

it.each([0, 1, 2])("clumping of %f keeps the mean", (clumping) => {
  for (const fraction of [0.03, 0.1, 0.25, 0.5, 0.8, 0.97]) {
    const mean = patch(fraction, clumping).reduce((sum, bit) => sum + bit, 0) / (COLUMNS * ROWS);
    // Up to a quarter of a pixel for each pixel of border is lost with the error that leaves there.
    const borderShare = (0.25 * 2 * (COLUMNS + ROWS)) / (COLUMNS * ROWS);
    expect(Math.abs(mean - fraction)).toBeLessThan(borderShare);
  }
});

/*
 * D. L. Lau, G. R. Arce and N. C. Gallagher, "Green-noise digital halftoning", Proc. IEEE 86(12) (1998), 2424–2444: the
 * principal frequency falls from √g to √(g/M) as the mean cluster grows to M pixels; below it there is little power, and
 * above it less than at it.
 */
it("has its power at the principal frequency of clusters, not at that of single dots", () => {
  const fraction = 0.15;
  const bits = patch(fraction, 1.5);
  const side = 256;
  const window = Uint8Array.from({ length: side * side }, (_, i) => {
    return bits[(96 + Math.floor(i / side)) * COLUMNS + 128 + (i % side)];
  });
  const power = radialPower(window, side);
  const principal = Math.sqrt(fraction / clusterSize(bits));
  const peak = meanPower(power, 0.85 * principal, 1.15 * principal);
  expect(peak).toBeGreaterThan(1.5);
  expect(meanPower(power, 0, principal / 2)).toBeLessThan(peak / 4);
  expect(meanPower(power, 2 * principal, 0.5)).toBeLessThan(peak / 2);
});
