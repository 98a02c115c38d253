import { describe, expect, it } from "vitest";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { predictLuminance } from "../../src/5-burn/predict.js";
import { reachableTones, solidLuminance } from "../../src/5-burn/solid-fill.js";
import { createResponse, type ResponsePoints } from "../../src/core/material/response.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../support/materials.js";
import { hasReference } from "../support/reference.js";
import {
  doseOf,
  ideal,
  luminanceOf,
  meanOver,
  plainMemory,
  randomBits,
  round,
  rowsFrom,
  simdMemory,
  square,
  worstDifference,
} from "./burning.js";
import { type ReferenceCase, simulateCases } from "./reference-cases.js";

/** White up to dose 0.5, black beyond. */
const threshold: ResponsePoints = [
  [0, 1],
  [0.4999, 1],
  [0.5001, 0],
  [1, 0],
];

/** Every fourth line burned, 0.1 mm apart, with a 0.115 mm spot: lines that do not touch. */
const columns = 9;
const rows = 41;
const apart = Uint8Array.from({ length: columns * rows }, (_, i) =>
  Math.floor(i / columns) % 4 === 0 ? 1 : 0,
);

describe("response before mean", () => {
  const plan = planExposure(square(0.1), round(0.115), ideal, { refinement: 20 });
  const response = createResponse(threshold);

  /** Mean of the middle column over whole periods away from the edges. */
  const meanLight = (doseFactor: number): number => {
    const luminance = luminanceOf(plan, response, apart, columns, rows, doseFactor);
    return meanOver(Array.from({ length: 16 }, (_, i) => luminance[(12 + i) * columns + 4]));
  };

  // Width of a Gaussian line at a threshold, d·√(ln(peak/threshold)/2), with the peak √(8/π)·pitch/d of one line
  // (Liu, Opt. Lett. 7, 196 (1982)). Over 40 samples per 0.1 mm: within 0.0025 mm of 0.4 mm.
  it.each([1, 0.9, 1.1])("marks a line as wide as its dose passes the threshold, dose × %d", (factor) => {
    const peak = (factor * Math.sqrt(8 / Math.PI) * 0.1) / 0.115;
    const widthMm = 0.115 * Math.sqrt(Math.log(peak / 0.5) / 2);
    expect(Math.abs(meanLight(factor) - (1 - widthMm / 0.4))).toBeLessThan(0.005);
  });

  it("differs from the response to the mean dose, which would see nothing", () => {
    const meanDose = 1 / 4;
    expect(meanDose).toBeLessThan(0.5);
    expect(meanLight(1)).toBeLessThan(0.85);
  });

  it("is the response to the mean dose where the response is a straight line", () => {
    const line = createResponse([
      [0, 0.9],
      [2, 0.1],
    ]);
    const bits = randomBits(20, 20, 0.3, 8);
    const fine = planExposure(square(0.06), round(0.115), ideal);
    const dose = doseOf(fine, bits, 20, 20);
    const luminance = luminanceOf(fine, line, bits, 20, 20);
    expect(Math.max(...dose)).toBeLessThan(2);
    expect(Math.abs(meanOver(luminance) - (0.9 - 0.4 * meanOver(dose)))).toBeLessThan(1e-6);
  });
});

describe("several doses and strips", () => {
  const bits = randomBits(24, 17, 0.4, 9);
  const plan = planExposure({ alongMm: 0.05, acrossMm: 0.08 }, round(0.1), { ...ideal, firingLagUs: 20 });
  const response = createResponse(steepPoints);

  it("at once equal each alone", () => {
    const factors = [1, 0.9, 1.1];
    const planes = factors.map(() => new Float32Array(24 * 17).fill(5));
    predictLuminance(
      { plan, response, memory: simdMemory },
      { columns: 24, rows: 17, row: rowsFrom(bits, 24) },
      { firstRow: 0, endRow: 17 },
      { factors },
      planes,
    );
    factors.forEach((factor, f) => {
      expect([...planes[f]]).toEqual([...luminanceOf(plan, response, bits, 24, 17, factor)]);
    });
    expect(worstDifference(planes[0], planes[1])).toBeGreaterThan(0.01);
  });

  it("in strips equal the whole", () => {
    const whole = luminanceOf(plan, response, bits, 24, 17);
    const strip = new Float32Array(24 * 6);
    predictLuminance(
      { plan, response, memory: simdMemory },
      { columns: 24, rows: 17, row: rowsFrom(bits, 24) },
      { firstRow: 7, endRow: 13 },
      { factors: [1] },
      [strip],
    );
    expect([...strip]).toEqual([...whole.subarray(24 * 7, 24 * 13)]);
  });
});

describe("both forms of the kernels", () => {
  it.each([0.7, 1.2, 2, 5, 20])("give the same bits, overdrive %d", (overdrive) => {
    const motion = { ...ideal, firingLagUs: 30, lineShiftMm: 0.02 };
    const plan = planExposure(square(0.1 / overdrive), { alongMm: 0.08, acrossMm: 0.12 }, motion);
    for (const points of [gradualPoints, steepPoints, lighteningPoints, threshold]) {
      const response = createResponse(points);
      for (const [columns, rows] of [
        [1, 2],
        [29, 9],
      ]) {
        const bits = randomBits(columns, rows, 0.5, columns);
        for (const factor of [1, 0.73, 1.9]) {
          const simd = luminanceOf(plan, response, bits, columns, rows, factor, simdMemory);
          const plain = luminanceOf(plan, response, bits, columns, rows, factor, plainMemory);
          expect(Buffer.from(simd.buffer).equals(Buffer.from(plain.buffer))).toBe(true);
        }
      }
    }
  });
});

describe("ends of the tone scale", () => {
  it("are the ends of the table where lines overlap well, whichever way the material turns", () => {
    const plan = planExposure(square(0.02), round(0.115), ideal);
    const darker = reachableTones({ plan, response: createResponse(gradualPoints), memory: simdMemory });
    expect(darker.darkest).toBeCloseTo(0.08, 6);
    expect(darker.lightest).toBeCloseTo(0.55, 7);
    const lighter = reachableTones({ plan, response: createResponse(lighteningPoints), memory: simdMemory });
    expect(lighter.darkest).toBeCloseTo(0.05, 6);
    expect(lighter.lightest).toBeCloseTo(0.6, 6);
  });

  it("count the gaps between lines that stand apart", () => {
    // As above, with every line burned 0.2 mm apart by a 0.1 mm spot: peak √(8/π)·2.
    const widthMm = 0.1 * Math.sqrt(Math.log((2 * Math.sqrt(8 / Math.PI)) / 0.5) / 2);
    const plan = planExposure(square(0.2), round(0.1), ideal, { refinement: 20 });
    const solid = solidLuminance({ plan, response: createResponse(threshold), memory: simdMemory });
    expect(Math.abs(solid - (1 - widthMm / 0.2))).toBeLessThan(0.005);
  });

  it("do not depend on lag and line shift", () => {
    const response = createResponse(steepPoints);
    const still = solidLuminance({
      plan: planExposure(square(0.1), round(0.115), ideal),
      response,
      memory: simdMemory,
    });
    const moved = { ...ideal, firingLagUs: 40, lineShiftMm: 0.05 };
    expect(
      solidLuminance({ plan: planExposure(square(0.1), round(0.115), moved), response, memory: simdMemory }),
    ).toBeCloseTo(still, 5);
  });
});

describe("against the brute-force simulation (tests/reference)", () => {
  const side = { columns: 48, rows: 36 };
  const spot = round(0.115);
  const materials = { gradual: gradualPoints, steep: steepPoints, lightening: lighteningPoints };
  const plain = Object.entries(materials).flatMap(([name, points]) =>
    [150, 254, 508, 1016].map((linesPerInch): [string, Job] => [
      `${name} at ${linesPerInch}`,
      {
        pitch: square(25.4 / linesPerInch),
        spot,
        points,
        bits: randomBits(side.columns, side.rows, 0.35, linesPerInch),
      },
    ]),
  );
  const motion = { ...ideal, firingLagUs: 60, lineShiftMm: 0.02 };
  const uneven = {
    pitch: { alongMm: 0.04, acrossMm: 0.07 },
    spot: { alongMm: 0.09, acrossMm: 0.14 },
    points: steepPoints,
    bits: randomBits(side.columns, side.rows, 0.35, 3),
  };
  const jobs: [string, Job][] = [
    ...plain,
    ["uneven grid and spot, lag and line shift", { ...uneven, motion }],
    ["the same one-way", { ...uneven, motion: { ...motion, oneWay: true } }],
  ];

  it.skipIf(!hasReference())("predicts the same luminance factor at every pixel", () => {
    const references = simulateCases(jobs.map(([, job]) => ({ ...job, ...side, sampling: 4 })));
    jobs.forEach(([name, { pitch, spot, points, bits, motion = ideal }], n) => {
      const response = createResponse(points);
      const { luminance, darkest, lightest } = references[n];
      // Both with twenty samples per spot, rounded up alike: single precision is all that differs.
      const doubled = spot.acrossMm / pitch.acrossMm < 1.5;
      const refined = planExposure(pitch, spot, motion, { refinement: doubled ? 2 : 4 });
      const fine = luminanceOf(refined, response, bits, side.columns, side.rows);
      expect(worstDifference(fine, luminance), name).toBeLessThan(5e-7);
      const ends = reachableTones({ plan: refined, response, memory: simdMemory });
      expect(Math.abs(ends.darkest - darkest), name).toBeLessThan(5e-7);
      expect(Math.abs(ends.lightest - lightest), name).toBeLessThan(5e-7);
      // With the samples of a job, a single pixel may be off by 0.02, but the mean hardly is.
      const coarse = luminanceOf(planExposure(pitch, spot, motion), response, bits, side.columns, side.rows);
      expect(worstDifference(coarse, luminance), name).toBeLessThan(0.025);
      expect(Math.abs(meanOver(coarse) - meanOver(luminance)), name).toBeLessThan(1e-3);
    });
  });
});

type Job = Omit<ReferenceCase, "columns" | "rows" | "sampling" | "bits"> & { readonly bits: Uint8Array };
