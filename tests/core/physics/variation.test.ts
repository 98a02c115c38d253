import { describe, expect, it } from "vitest";
import {
  lineAverageShare,
  lineSeenShare,
  localAverageShare,
  localSeenShare,
} from "../../../src/core/physics/variation.js";
import { seededRandom } from "../../../src/core/random.js";
import { normals } from "../../support/normals.js";

/** Midpoint rule. */
function integral(from: number, to: number, steps: number, value: (x: number) => number): number {
  const step = (to - from) / steps;
  let sum = 0;
  for (let i = 0; i < steps; i++) sum += value(from + (i + 0.5) * step);
  return sum * step;
}

/**
 * Random waves √2·cos(2π(fx + gy) + φ) of a field of variance 1 and correlation exp(−(r/ℓ)²). Its spectrum exp(−π²ℓ²f²) is a normal
 * distribution of deviation 1/(√2·πℓ), from which the frequencies are drawn. The mean square over waves is the field's variance.
 */
function* waves(count: number, lengthMm: number, seed: number) {
  const random = seededRandom(seed);
  for (let n = 0; n < count; n++) {
    const [f, g] = normals(random).map((value) => value / (Math.SQRT2 * Math.PI * lengthMm));
    const phase = 2 * Math.PI * random();
    yield {
      f,
      g,
      at: (x: number, y: number) => Math.SQRT2 * Math.cos(2 * Math.PI * (f * x + g * y) + phase),
    };
  }
}

/** Näsänen's 0.525·ln L + 3.91 cycles per degree, one degree being 2D·tan(0.5°) wide, written out again. */
const eyeDecayPerMm = (distanceMm: number, luminance: number) =>
  (0.525 * Math.log(luminance) + 3.91) / (2 * distanceMm * Math.tan(Math.PI / 360));

const normalDensity = (x: number, sigma: number) =>
  Math.exp(-0.5 * (x / sigma) ** 2) / (sigma * Math.sqrt(2 * Math.PI));

describe("the local field in a rectangle's mean", () => {
  it.each([
    [0.15, 0.25, 2],
    [1, 0.5, 2],
    [1, 3, 0.4],
    [8, 0.2, 0.7],
  ])("of %d × %d mm keeps the mean correlation of all pairs of points, ℓ %d mm", (along, across, length) => {
    const pairs = (side: number) =>
      integral(0, side, 400, (x) => integral(0, side, 400, (y) => Math.exp(-(((x - y) / length) ** 2)))) /
      side ** 2;
    expect(localAverageShare(along, across, length)).toBeCloseTo(pairs(along) * pairs(across), 4);
  });

  it("is the variance between realisations of a random field", () => {
    const [along, across, length] = [1.2, 0.6, 0.8];
    let squares = 0;
    const count = 20_000;
    for (const { at } of waves(count, length, 11)) {
      let sum = 0;
      for (let i = 0; i < 100; i++)
        sum += at((along * ((i % 10) + 0.5)) / 10, (across * (Math.floor(i / 10) + 0.5)) / 10);
      squares += (sum / 100) ** 2;
    }
    // The standard error of 20,000 squares that differ by about their mean is 0.7 %.
    expect(Math.abs(localAverageShare(along, across, length) / (squares / count) - 1)).toBeLessThan(0.025);
  });

  it("is the whole field in a small rectangle, and πℓ²/area of it in a large one", () => {
    // g(s) = 1 − s²/(6ℓ²) + …, by expanding the correlation.
    expect(localAverageShare(0.002, 0.001, 2)).toBeCloseTo(1 - (0.001 ** 2 + 0.0005 ** 2) / 6, 12);
    const large = localAverageShare(1000, 2000, 0.5);
    expect(large / ((Math.PI * 0.25) / 2e6)).toBeCloseTo(1, 2);
  });
});

describe("lines in an aperture", () => {
  /** Squared weights of all lines in the mean dose of the aperture, averaged over phases. */
  function summed(side: number, pitch: number, spot: number): number {
    const reach = Math.ceil((side + 2 * spot) / pitch) + 1;
    return integral(0, 1, 60, (phase) => {
      let squares = 0;
      for (let line = -reach; line <= reach; line++) {
        const from = (phase + line) * pitch;
        const within = integral(from, from + side, 300, (y) => normalDensity(y, spot / 4));
        squares += ((pitch * within) / side) ** 2;
      }
      return squares;
    });
  }

  it.each([
    [0.15, 0.05, 0.115],
    [0.25, 0.1, 0.115],
    [0.15, 0.2, 0.09],
    [1, 0.025, 0.12],
    [0.03, 0.06, 0.1],
  ])("of %d mm at a pitch of %d and a spot of %d mm keep the sum of their squared weights", (...given) => {
    expect(lineAverageShare(...given) / summed(...given)).toBeCloseTo(1, 4);
  });

  it("are averaged by their number in a wide one", () => {
    expect(lineAverageShare(100, 0.05, 0.115)).toBeCloseTo(0.05 / 100, 6);
  });
});

describe("the local field before the eye", () => {
  it.each([
    [2, 300, 50],
    [0.3, 300, 10],
    [5, 1000, 100],
    [0.05, 60, 50],
  ])("of ℓ %d mm at %d mm and %d cd/m² is averaged by the eye's blur", (length, distance, luminance) => {
    // In space: exp(−2f/f₀) is the transform of 2π·c/(c² + 4π²r²)^(3/2), c = 2/f₀ (the Hankel transform of an exponential), and
    // the variance left is the mean of the correlation under it. With r = ℓ·t/(1 − t), the range is finite.
    const c = 2 / eyeDecayPerMm(distance, luminance);
    const left = integral(0, 1, 100_000, (t) => {
      const r = (length * t) / (1 - t);
      const blur = (2 * Math.PI * c) / (c * c + 4 * Math.PI ** 2 * r * r) ** 1.5;
      return (blur * Math.exp(-((r / length) ** 2)) * 2 * Math.PI * r * length) / (1 - t) ** 2;
    });
    expect(localSeenShare(length, distance, luminance) / left).toBeCloseTo(1, 6);
  });

  it("is the variance of random waves that the eye weakens", () => {
    const f0 = eyeDecayPerMm(300, 50);
    let [squares, count] = [0, 20_000];
    for (const { f, g } of waves(count, 0.5, 5)) squares += Math.exp(-Math.hypot(f, g) / f0) ** 2;
    expect(Math.abs(localSeenShare(0.5, 300, 50) / (squares / count) - 1)).toBeLessThan(0.01);
  });

  it("is seen whole if it is long, and less from further away or in less light", () => {
    expect(localSeenShare(1000, 300, 50)).toBeGreaterThan(0.998);
    expect(localSeenShare(1, 600, 50)).toBeLessThan(localSeenShare(1, 300, 50));
    expect(localSeenShare(1, 300, 10)).toBeLessThan(localSeenShare(1, 300, 50));
  });
});

describe("lines before the eye", () => {
  it.each([
    [0.05, 0.115, 300, 50],
    [0.3, 0.1, 100, 10],
    [0.2, 0.2, 1000, 50],
  ])(
    "of pitch %d and spot %d mm at %d mm and %d cd/m² keep the sum of their squared weights",
    (pitch, spot, distance, luminance) => {
      // In space: exp(−|f|/f₀) is the transform of 2b/(b² + 4π²y²), b = 1/f₀ (Cauchy), spread by the line's own profile. Tails
      // of the squares fall like 1/y⁴.
      const b = 1 / eyeDecayPerMm(distance, luminance);
      const sigma = spot / 4;
      const seen = (y: number) =>
        integral(-6 * sigma, 6 * sigma, 60, (t) => {
          return (normalDensity(t, sigma) * 2 * b) / (b * b + 4 * Math.PI ** 2 * (y - t) ** 2);
        });
      const reach = Math.ceil((20 * b + 6 * sigma) / pitch);
      const summed = integral(0, 1, 16, (phase) => {
        let squares = 0;
        for (let line = -reach; line <= reach; line++) squares += (pitch * seen((phase + line) * pitch)) ** 2;
        return squares;
      });
      expect(lineSeenShare(pitch, spot, distance, luminance) / summed).toBeCloseTo(1, 4);
    },
  );

  it("are, without an eye, what a point sees", () => {
    // From no distance, the eye passes everything: the same as an aperture of no size.
    expect(lineSeenShare(0.05, 0.115, 1e-6, 50) / lineAverageShare(1e-5, 0.05, 0.115)).toBeCloseTo(1, 5);
  });
});
