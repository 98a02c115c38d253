import { describe, expect, it } from "vitest";
import { compensate, uncompensatedBurn } from "../../src/5-burn/compensate.js";
import { lightnessFromLuminance } from "../../src/core/lightness.js";
import { lookUp, mapTabulated } from "../../src/core/tabulated.js";
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
  const fractionsOf = (wanted: Float32Array) => compensate(job.burnFor, wanted, side, side, pitch, spot);

  it("of an even tint is the inverse tone curve, untouched by the balance for texture", () => {
    for (const y of [0.02, 0.18, 0.5, 0.9]) {
      const wanted = new Float32Array(side * side).fill(job.target(y));
      const fraction = lookUp(job.burnFor, wanted[0]);
      for (const value of fractionsOf(wanted)) expect(Math.abs(value - fraction)).toBeLessThan(2e-6);
    }
  });

  it("keeps within 0..1, and leaves what was wanted as it is", () => {
    const wanted = Float32Array.from({ length: side * side }, (_, i) => job.target((i * 0.618) % 1));
    const before = wanted.slice();
    const fractions = fractionsOf(wanted);
    expect([...wanted]).toEqual([...before]);
    expect(Math.min(...fractions)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...fractions)).toBeLessThanOrEqual(1);
  });

  it("burns nothing where the surface stays bare, close to other tones and after a resampling's rounding", () => {
    const bareLight = job.response.darkens ? 1 : 0;
    const inside = (i: number) => Math.hypot((i % side) - 48, Math.floor(i / side) - 48) < 25;
    const wanted = Float32Array.from({ length: side * side }, (_, i) => {
      if (inside(i)) return job.target(0.4);
      // What is left of an even bare tone when its taps do not quite add up to 1.
      const rounding = (1 + (i % 5)) * 2 ** -24;
      return job.target(Math.abs(bareLight - rounding));
    });
    const fractions = fractionsOf(wanted);
    fractions.forEach((fraction, i) => {
      if (inside(i)) expect(fraction).toBeGreaterThan(0);
      else expect(fraction).toBe(0);
    });
  });

  it.each([
    ["a chequerboard", (x: number, y: number) => (x + y) % 2],
    ["stripes along the lines", (_: number, y: number) => Math.floor(y / 2) % 2],
    ["stripes across the lines", (x: number) => Math.floor(x / 2) % 2],
  ])("balances %s: its mean comes nearer to the mean wanted", (_, pattern) => {
    const wanted = Float32Array.from({ length: side * side }, (_, i) =>
      job.target(pattern(i % side, Math.floor(i / side)) ? 0.9 : 0.05),
    );
    /** Error in L* of the mean luminance factor, away from the border. */
    const error = (fractions: Float32Array): number => {
      const bits = job.halftone(fractions, side, side);
      const predicted = luminanceOf(job.plan, job.response, bits, side, side);
      return Math.abs(
        lightnessFromLuminance(meanInside(predicted)) - lightnessFromLuminance(meanInside(wanted)),
      );
    };
    const without = error(mapTabulated(job.burnFor, wanted));
    const balanced = error(fractionsOf(wanted));
    expect(without).toBeGreaterThan(1.4);
    expect(balanced).toBeLessThan(0.3);
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
