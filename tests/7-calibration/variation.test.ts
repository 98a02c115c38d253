import { describe, expect, it } from "vitest";
import { type DosePlace, doseVariation } from "../../src/7-calibration/variation.js";
import { seededRandom } from "../../src/core/random.js";
import { normals } from "../support/normals.js";

interface Parts {
  readonly local: number;
  readonly lengthMm: number;
  readonly own: number;
  readonly reading: number;
  readonly drift: number;
}

/**
 * Places of a card of 80 × 60 mm, 3 mm apart. The local part is a sum of plane waves with the spectrum of exp(−(r/ℓ)²), which is a
 * Gaussian of deviation √2/ℓ (its Fourier transform).
 */
function places({ local, lengthMm, own, reading, drift }: Parts, seed: number): DosePlace[] {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 400 }, () => {
    const [u, v] = normals(random).map((each) => (each * Math.SQRT2) / lengthMm);
    return { u, v, phase: 2 * Math.PI * random() };
  });
  return Array.from({ length: 26 * 20 }, (_, n) => {
    const [xMm, yMm] = [3 * (n % 26), 3 * Math.floor(n / 26)];
    const field = waves.reduce((sum, { u, v, phase }) => sum + Math.cos(u * xMm + v * yMm + phase), 0);
    const [mine, camera] = normals(random);
    const lnDose =
      local * Math.sqrt(2 / waves.length) * field + own * mine + reading * camera + drift * (xMm / 75 - 0.5);
    return { xMm, yMm, lnDose, readingError: reading };
  });
}

const seeds = [1, 2, 3, 4, 5, 6];
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe("variation of the dose over a card", () => {
  it.each<[string, Parts]>([
    ["blotches of 5 mm", { local: 0.04, lengthMm: 5, own: 0.025, reading: 0.01, drift: 0 }],
    ["blotches of 6 mm, under a drift", { local: 0.03, lengthMm: 6, own: 0.02, reading: 0.01, drift: 0.1 }],
    ["places that differ for themselves", { local: 0, lengthMm: 4, own: 0.04, reading: 0.02, drift: 0.05 }],
  ])("%s: each part within a third, or 0.013", (_, parts) => {
    const found = seeds.map((seed) => doseVariation(places(parts, seed)));
    const near = (value: number, truth: number) =>
      expect(Math.abs(value - truth)).toBeLessThan(Math.max(truth / 3, 0.013));
    near(mean(found.map(({ local }) => local)), parts.local);
    near(mean(found.map(({ ofPlaces }) => ofPlaces)), parts.own);
    // Blotches lean to one side by chance.
    const drift = mean(found.map((each) => each.drift));
    expect(Math.abs(drift - parts.drift)).toBeLessThan(Math.max(parts.drift / 3, parts.local));
    if (parts.local > 0) {
      const lengthMm = mean(found.map(({ localLengthMm }) => localLengthMm));
      expect(Math.abs(lengthMm - parts.lengthMm)).toBeLessThan(parts.lengthMm / 3);
    }
  });

  it("takes the camera's noise off", () => {
    const still = { local: 0, lengthMm: 4, own: 0, reading: 0.05, drift: 0 };
    for (const seed of seeds) {
      const { local, ofPlaces } = doseVariation(places(still, seed));
      expect(Math.hypot(local, ofPlaces)).toBeLessThan(0.02);
    }
  });
});
