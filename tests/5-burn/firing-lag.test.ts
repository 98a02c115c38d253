import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { createResponse } from "../../src/core/material/response.js";
import type { BeamMotion } from "../../src/core/spot.js";
import { doseOf, ideal, luminanceOf, round, square } from "./burning.js";

const pitchMm = 0.05;
const spot = round(0.1);
const columns = 640;
const rows = 9;
/** Far from both ends of the line and from its neighbours' edges. */
const [fromPx, endPx, line] = [160, 480, 4];

const at = (firingLagUs: number, oneWay: boolean): BeamMotion => ({
  ...ideal,
  speedMmPerS: 500,
  firingLagUs,
  oneWay,
});

/** Linear over all doses that occur, so luminance keeps the contrast of the dose. */
const straight = createResponse([
  [0, 1],
  [4, 0],
]);

/** Line pairs across the direction of travel: half of each period burns. */
const linePairs = (periodPx: number): Uint8Array =>
  Uint8Array.from({ length: columns * rows }, (_, n) => ((n % columns) % periodPx < periodPx / 2 ? 1 : 0));

/** Amplitude of the first harmonic of a row of samples that holds whole periods. */
function firstHarmonic(samples: ArrayLike<number>, samplesPerPeriod: number): number {
  let [re, im] = [0, 0];
  for (let n = 0; n < samples.length; n++) {
    const phase = (2 * Math.PI * n) / samplesPerPeriod;
    re += samples[n] * Math.cos(phase);
    im += samples[n] * Math.sin(phase);
  }
  return (2 * Math.hypot(re, im)) / samples.length;
}

/** What a first-order lag leaves of a sine's amplitude. Source: any text on linear filters. */
const leftByLag = (frequencyPerMm: number, lagMm: number): number =>
  1 / Math.sqrt(1 + (2 * Math.PI * frequencyPerMm * lagMm) ** 2);

describe("contrast of line pairs under a firing lag of 100 µs at 500 mm/s", () => {
  // 0.05 mm of travel in one time constant.
  it.each([4, 8, 20, 40])("in the dose, a period of %d pixels", (periodPx) => {
    const bits = linePairs(periodPx);
    const contrast = (lagUs: number): number => {
      const plan = planExposure(square(pitchMm), spot, at(lagUs, true));
      const dose = doseOf(plan, bits, columns, rows, line, line + 1);
      const { samplesAlong } = plan;
      return firstHarmonic(
        dose.subarray(fromPx * samplesAlong, endPx * samplesAlong),
        periodPx * samplesAlong,
      );
    };
    const left = contrast(100) / contrast(0);
    expect(left / leftByLag(1 / (periodPx * pitchMm), 0.05)).toBeCloseTo(1, 2.3);
  });

  it.each([8, 20, 40])("in the predicted piece, a period of %d pixels", (periodPx) => {
    const bits = linePairs(periodPx);
    const contrast = (lagUs: number): number => {
      const plan = planExposure(square(pitchMm), spot, at(lagUs, true));
      const luminance = luminanceOf(plan, straight, bits, columns, rows);
      return firstHarmonic(luminance.subarray(line * columns + fromPx, line * columns + endPx), periodPx);
    };
    const left = contrast(100) / contrast(0);
    expect(left / leftByLag(1 / (periodPx * pitchMm), 0.05)).toBeCloseTo(1, 2.3);
  });

  it("falls further in two-way work, where neighbouring lines lag apart", () => {
    const bits = linePairs(20);
    const contrast = (oneWay: boolean): number => {
      const plan = planExposure(square(pitchMm), spot, at(100, oneWay));
      const luminance = luminanceOf(plan, straight, bits, columns, rows);
      return firstHarmonic(luminance.subarray(line * columns + fromPx, line * columns + endPx), 20);
    };
    expect(contrast(false)).toBeLessThan(0.97 * contrast(true));
  });
});
