import { describe, expect, it } from "vitest";
import { uncompensatedBurn } from "../../src/5-burn/compensate.js";
import { FRACTION_ONE, STAYS_BARE } from "../../src/core/burn-fraction.js";
import { BRIGHTEST_CODE } from "../../src/core/luminance-codes.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import { seededRandom } from "../../src/core/random.js";
import { lookUp } from "../../src/core/tabulated.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../support/materials.js";
import { luminanceOf, meanOver, round, square } from "./burning.js";
import { burnJob } from "./job.js";

const pitch = square(0.025);
const spot = round(0.115);
const side = 96;

const jobs = [
  ["gradual", burnJob(gradualPoints, pitch, spot, "floyd-steinberg", 129)],
  ["steep", burnJob(steepPoints, pitch, spot, "floyd-steinberg", 129)],
  ["lightening", burnJob(lighteningPoints, pitch, spot, "floyd-steinberg", 129)],
] as const;

describe.each(jobs)("compensation, %s", (_, job) => {
  const even = (luminance: number) => new Float32Array(side * side).fill(luminance);

  it("of an even tint is the inverse tone curve, untouched by the balance for texture", () => {
    for (const luminance of [0.02, 0.18, 0.5, 0.9]) {
      const code = Math.round(luminance * BRIGHTEST_CODE);
      const fraction = lookUp(job.burnFor, job.target(code / BRIGHTEST_CODE));
      // The balance looks its table up without interpolation, and rounds to an integer: two steps of 1/16384.
      for (const value of job.fractionsOf(even(luminance), side, side)) {
        expect(Math.abs(value / FRACTION_ONE - fraction)).toBeLessThan(2.5 / FRACTION_ONE);
      }
    }
  });

  it("keeps within 0..1", () => {
    const luminance = Float32Array.from({ length: side * side }, (_, i) => (i * 0.618) % 1);
    const fractions = job.fractionsOf(luminance, side, side);
    expect(Math.min(...fractions)).toBeGreaterThanOrEqual(STAYS_BARE);
    expect(Math.max(...fractions)).toBeLessThanOrEqual(FRACTION_ONE);
  });

  it("burns nothing where the surface stays bare, close to other tones and after a resampling's rounding", () => {
    const bareLight = job.response.darkens ? 1 : 0;
    const inside = (i: number) => Math.hypot((i % side) - 48, Math.floor(i / side) - 48) < 25;
    const luminance = Float32Array.from({ length: side * side }, (_, i) => {
      if (inside(i)) return 0.4;
      // What is left of an even bare tone when its taps do not quite add up to 1.
      const rounding = (1 + (i % 5)) * 2 ** -24;
      return Math.abs(bareLight - rounding);
    });
    job.fractionsOf(luminance, side, side).forEach((fraction, i) => {
      if (inside(i)) expect(fraction).toBeGreaterThan(0);
      else expect(fraction).toBe(STAYS_BARE);
    });
  });

  it("leaves a solid shape solid to its edges", () => {
    const solidLight = job.response.darkens ? 0 : 1;
    const inside = (i: number) => Math.hypot((i % side) - 48, Math.floor(i / side) - 48) < 25;
    const solid = Math.round(lookUp(job.burnFor, job.target(solidLight)) * FRACTION_ONE);
    const luminance = Float32Array.from({ length: side * side }, (_, i) => (inside(i) ? solidLight : 0.4));
    job.fractionsOf(luminance, side, side).forEach((fraction, i) => {
      if (inside(i)) expect(fraction).toBe(solid);
    });
  });

  it.each([
    ["a chequerboard", (x: number, y: number) => (x + y) % 2],
    ["stripes along the lines", (_: number, y: number) => Math.floor(y / 2) % 2],
    ["stripes across the lines", (x: number) => Math.floor(x / 2) % 2],
  ])("balances %s: its mean comes nearer to the mean wanted", (_, pattern) => {
    const luminance = Float32Array.from({ length: side * side }, (_, i) =>
      pattern(i % side, Math.floor(i / side)) ? 0.9 : 0.05,
    );
    const wanted = luminance.map(job.target);
    /** Error in L* of the mean luminance factor, away from the border. */
    const error = (fractions: Int16Array): number => {
      const bits = unpackBitmap(job.halftone(fractions, side, side));
      const predicted = luminanceOf(job.plan, job.response, bits, side, side);
      return Math.abs(
        lightnessFromLuminance(meanInside(predicted)) - lightnessFromLuminance(meanInside(wanted)),
      );
    };
    const unbalanced = Int16Array.from(wanted, (tone) =>
      Math.round(lookUp(job.burnFor, tone) * FRACTION_ONE),
    );
    expect(error(unbalanced)).toBeGreaterThan(1.4);
    // The rest, up to 0.4, is within a cell of half a spot, where the balance uses one tone. 1 is just noticeable.
    expect(error(job.fractionsOf(luminance, side, side))).toBeLessThan(0.45);
  });
});

describe("the two forms of compensation", () => {
  const random = seededRandom(11);
  // Cells of 1 × 1, 2 × 2, 3 × 1 and 7 × 4 pixels, on sides that they do not divide.
  it.each([
    [0.1, 0.1],
    [0.05, 0.05],
    [0.03, 0.1],
    [0.015, 0.025],
  ])("give the same bits at pitches of %d × %d mm", (alongMm, acrossMm) => {
    const elliptic = { alongMm: 0.11, acrossMm: 0.115 };
    const job = burnJob(steepPoints, { alongMm, acrossMm }, elliptic, "blue-noise");
    for (const [columns, rows] of [
      [53, 31],
      [1, 9],
      [70, 1],
      [8, 8],
    ]) {
      const luminance = Float32Array.from({ length: columns * rows }, () => Math.min(1, 1.2 * random()));
      for (const compensated of [true, false]) {
        const plain = job.fractionsOf(luminance, columns, rows, { compensated, form: "plain" });
        expect(job.fractionsOf(luminance, columns, rows, { compensated })).toEqual(plain);
      }
    }
  });
});

describe("without compensation", () => {
  it("the burn fraction is the wanted tone's place between bare and solid (Murray 1936)", () => {
    const burn = uncompensatedBurn(0.6, 0.1);
    expect([burn(0.6), burn(0.35), burn(0.1)].map((value) => Math.round(value * 1e12) / 1e12)).toEqual([
      0, 0.5, 1,
    ]);
    expect([burn(0.9), burn(0)]).toEqual([0, 1]);
    expect(uncompensatedBurn(0.1, 0.6)(0.225)).toBeCloseTo(0.25, 12);
    expect(uncompensatedBurn(0.3, 0.3)(0.3)).toBe(0);
  });
});

/** Mean without 16 pixels at each edge. */
function meanInside(plane: Float32Array): number {
  return meanOver(
    plane.filter((_, i) => {
      const [x, y] = [i % side, Math.floor(i / side)];
      return x >= 16 && x < side - 16 && y >= 16 && y < side - 16;
    }),
  );
}
