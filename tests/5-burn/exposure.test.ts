import { describe, expect, it } from "vitest";
import { exposeRows } from "../../src/5-burn/exposure.js";
import { type PlanNeeds, planExposure } from "../../src/5-burn/exposure-plan.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { createResponse } from "../../src/core/material/response.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import type { Pitch } from "../../src/core/plane.js";
import type { BeamMotion, Spot } from "../../src/core/spot.js";
import { checkNumber, checkValue } from "../support/check-values.js";
import { gaussian, integrate } from "../support/integrate.js";
import { steepPoints } from "../support/materials.js";
import {
  doseOf,
  halftoneOf,
  ideal,
  luminanceOf,
  meanOver,
  plainMemory,
  randomBits,
  round,
  simdMemory,
  square,
  worstDifference,
} from "./burning.js";

const columns = 13;
const rows = 9;

/**
 * Section 2 of the engraving model as written, a loop over burned pixels at every sample. The box of one pitch under the
 * Gaussian is integrated over the pixel; a lag is integrated over the time that has passed. Rows are lines, odd ones may
 * travel back and sit off.
 */
function directDose(bits: ArrayLike<number>, pitch: Pitch, spot: Spot, motion: BeamMotion): Float64Array {
  const { samplesAlong, samplesAcross } = planExposure(pitch, spot, ideal);
  const sigmaAlongMm = spot.alongMm / 4;
  const sigmaAcrossMm = spot.acrossMm / 4;
  const lagMm = motion.speedMmPerS * motion.firingLagUs * 1e-6;
  const box = (xMm: number): number =>
    integrate((u) => gaussian(xMm - u, sigmaAlongMm), -pitch.alongMm / 2, pitch.alongMm / 2, 48);
  // A hundredth of a pixel, or of the time constant.
  const steps = Math.ceil(30 * Math.max(20, (20 * lagMm) / pitch.alongMm));
  // Few distances occur, each many times: worked out once.
  const known = new Map<string, number>();
  const along = (xMm: number): number => {
    const key = xMm.toFixed(9);
    const dose =
      known.get(key) ??
      (lagMm === 0 ? box(xMm) : integrate((t) => Math.exp(-t) * box(xMm - lagMm * t), 0, 30, steps));
    known.set(key, dose);
    return dose;
  };

  const width = columns * samplesAlong;
  const lines = [0, 1].map((odd) =>
    Array.from({ length: width * columns }, (_, n) => {
      const xMm = (sampleAt(Math.floor(n / columns), samplesAlong) - (n % columns)) * pitch.alongMm;
      if (odd === 0 || motion.oneWay) return along(xMm);
      return along(-(xMm - motion.lineShiftMm));
    }),
  );
  const out = new Float64Array(width * rows * samplesAcross);
  for (let n = 0; n < out.length; n++) {
    const sample = n % width;
    const yPx = sampleAt(Math.floor(n / width), samplesAcross);
    for (let j = 0; j < rows; j++) {
      const across = pitch.acrossMm * gaussian((yPx - j) * pitch.acrossMm, sigmaAcrossMm);
      for (let i = 0; i < columns; i++) {
        out[n] += bits[j * columns + i] * across * lines[j % 2][sample * columns + i];
      }
    }
  }
  return out;
}

/** Place of a sample in pixels, pixel centres at whole numbers. */
const sampleAt = (sample: number, perPixel: number): number => (sample + 0.5) / perPixel - 0.5;

// The Gaussian is cut at 5.5σ (4e-8 of the dose) and sums are in single precision.
const TOLERANCE = 3e-6;

describe("dose of a bitmap, against the formula summed pixel by pixel", () => {
  it.each([
    ["overdrive 0.68", square(0.115 / 0.68), round(0.115)],
    ["overdrive 1.15", square(0.1), round(0.115)],
    ["overdrive 2.3", square(0.05), round(0.115)],
    ["overdrive 4.6", square(0.025), round(0.115)],
    ["an elliptical spot", square(0.05), { alongMm: 0.08, acrossMm: 0.15 }],
    ["unequal pitches", { alongMm: 0.05, acrossMm: 0.1 }, round(0.115)],
    ["both", { alongMm: 0.09, acrossMm: 0.06 }, { alongMm: 0.15, acrossMm: 0.08 }],
  ])("%s", (_, pitch, spot) => {
    const bits = randomBits(columns, rows, 0.4, 2);
    const dose = doseOf(planExposure(pitch, spot, ideal), bits, columns, rows);
    expect(worstDifference(dose, directDose(bits, pitch, spot, ideal))).toBeLessThan(TOLERANCE);
  });

  it.each<[string, Partial<BeamMotion>]>([
    ["firing lag, two-way", { firingLagUs: 80 }],
    ["a short firing lag", { firingLagUs: 2 }],
    ["firing lag, one-way", { firingLagUs: 80, oneWay: true }],
    ["line shift", { lineShiftMm: 0.031 }],
    ["line shift against the travel, with lag", { lineShiftMm: -0.012, firingLagUs: 50 }],
    ["line shift that one-way work does not have", { lineShiftMm: 0.031, oneWay: true }],
  ])("%s", (_, changes) => {
    const motion = { ...ideal, ...changes };
    const [pitch, spot] = [square(0.05), round(0.1)];
    const bits = randomBits(columns, rows, 0.4, 3);
    const dose = doseOf(planExposure(pitch, spot, motion), bits, columns, rows);
    expect(worstDifference(dose, directDose(bits, pitch, spot, motion))).toBeLessThan(TOLERANCE);
  });

  // 12.5 time constants of 0.32 mm are 80 pixels, more than are summed tap by tap.
  it.each<[string, Partial<BeamMotion>]>([
    ["two-way", {}],
    ["one-way", { oneWay: true }],
    ["with line shift", { lineShiftMm: 0.07 }],
  ])("a lag as long as the line, %s", (_, changes) => {
    const motion = { ...ideal, firingLagUs: 800, ...changes };
    const [pitch, spot] = [square(0.05), round(0.1)];
    const plan = planExposure(pitch, spot, motion);
    expect(plan.evenLines.tail?.decay).toBeCloseTo(Math.exp(-0.05 / 0.32), 12);
    const bits = randomBits(columns, rows, 0.4, 3);
    const dose = doseOf(plan, bits, columns, rows);
    expect(worstDifference(dose, directDose(bits, pitch, spot, motion))).toBeLessThan(TOLERANCE);
  });
});

describe("both forms of the kernels", () => {
  it("run here", () => {
    expect(simdMemory.simd).toBeDefined();
    expect(plainMemory.simd).toBeUndefined();
  });

  const motions: [string, Partial<BeamMotion>][] = [
    ["ideal", {}],
    ["lag and line shift", { firingLagUs: 60, lineShiftMm: 0.03 }],
    ["long lag", { firingLagUs: 3000, lineShiftMm: -0.02 }],
    ["long lag, one-way", { firingLagUs: 3000, oneWay: true }],
  ];
  const spots = [round(0.1), { alongMm: 0.07, acrossMm: 0.16 }, { alongMm: 0.2, acrossMm: 0.05 }];
  const cases = motions.flatMap(([name, changes]) =>
    spots.flatMap((spot) =>
      [0.7, 1.2, 2, 3.3, 5, 20].map(
        (overdrive) => [name, spot, overdrive, { ...ideal, ...changes }] as const,
      ),
    ),
  );

  it.each(cases)("give the same bits: %s, spot %o, overdrive %d", (_, spot, overdrive, motion) => {
    const plan = planExposure(square(0.1 / overdrive), spot, motion);
    for (const [width, height] of [
      [1, 1],
      [7, 5],
      [33, 3],
      [70, 11],
    ]) {
      const bits = randomBits(width, height, 0.45, width);
      const simd = doseOf(plan, bits, width, height, 0, height, simdMemory);
      const plain = doseOf(plan, bits, width, height, 0, height, plainMemory);
      expect(bytesOf(simd).equals(bytesOf(plain))).toBe(true);
    }
  });

  it("sum tables of half bytes where whole bytes would take too much room", () => {
    // 600 taps × 10 samples: 76 tables of 4 KB for each sample by whole bytes.
    const plan = planExposure(
      { alongMm: 0.01, acrossMm: 0.05 },
      round(0.1),
      { ...ideal, lineShiftMm: 2 },
      { refinement: 4 },
    );
    const bits = randomBits(260, 6, 0.4, 1);
    const simd = doseOf(plan, bits, 260, 6);
    expect(bytesOf(simd).equals(bytesOf(doseOf(plan, bits, 260, 6, 0, 6, plainMemory)))).toBe(true);
    // The dose of odd lines lies 200 pixels to the right of the dose of the same bits on even lines.
    const line = bits.slice(0, 260);
    const even = new Uint8Array(260 * 6);
    even.set(line, 2 * 260);
    const odd = new Uint8Array(260 * 6);
    odd.set(line, 3 * 260);
    const width = 260 * plan.samplesAlong;
    const sums = [even, odd].map((each, n) => {
      const dose = doseOf(plan, each, 260, 6, 2 + n, 3 + n);
      return dose.subarray(0, width);
    });
    const apart = 200 * plan.samplesAlong;
    // Inside the picture, away from its left edge.
    expect(worstDifference(sums[1].subarray(apart), sums[0].subarray(0, width - apart))).toBeLessThan(1e-6);
  });
});

const bytesOf = ({ buffer, byteOffset, byteLength }: Float32Array): Buffer =>
  Buffer.from(buffer, byteOffset, byteLength);

describe("energy", () => {
  it.each([0.5, 1.15, 2.3, 5])("a solid fill averages 1 away from its edges, overdrive %d", (overdrive) => {
    const plan = planExposure(square(0.115 / overdrive), round(0.115), { ...ideal, firingLagUs: 5 });
    const side = 61;
    const dose = doseOf(plan, new Uint8Array(side * side).fill(1), side, side, 30, 31);
    const width = side * plan.samplesAlong;
    const middle = Array.from({ length: plan.samplesAcross }, (_, s) =>
      meanOver(dose.subarray(s * width + 30 * plan.samplesAlong, s * width + 31 * plan.samplesAlong)),
    );
    expect(Math.abs(meanOver(middle) - 1)).toBeLessThan(2e-6);
  });

  it.each([0.68, 1.15, 2.3, 4.6])(
    "one pixel lays down the energy of one pixel area, overdrive %d",
    (overdrive) => {
      const motion = { ...ideal, firingLagUs: 30, lineShiftMm: 0.02 };
      const plan = planExposure(square(0.115 / overdrive), round(0.115), motion);
      const side = 41;
      for (const line of [20, 21]) {
        const bits = new Uint8Array(side * side);
        bits[line * side + 20] = 1;
        const dose = doseOf(plan, bits, side, side);
        expect(Math.abs(meanOver(dose) * side * side - 1)).toBeLessThan(5e-6);
      }
    },
  );
});

describe("ripple of a solid fill across the lines", () => {
  /** Least and greatest dose over one pitch, sampled 400 times or more. */
  function extremes(pitchOverDiameter: number): readonly [number, number] {
    const plan = planExposure(square(0.1 * pitchOverDiameter), round(0.1), ideal, { refinement: 100 });
    const side = 2 * plan.across.reach + 1;
    // Along the line a solid fill is even: one column whose only tap is 1 will do.
    const even = { reach: 0, before: 0, after: 0, width: 1, taps: Float64Array.of(1) };
    const dose = doseOf(
      { ...plan, samplesAlong: 1, evenLines: even, oddLines: even },
      new Uint8Array(side).fill(1),
      1,
      side,
      plan.across.reach,
      plan.across.reach + 1,
    );
    return [Math.min(...dose), Math.max(...dose)];
  }

  // Poisson summation, tests/data/check-values.json. Samples miss the crest by 1/800 of the pitch: 1.5e-5 of the ripple.
  it.each(["ripple.minmax.0.5", "ripple.minmax.0.7", "ripple.minmax.1"])("%s", (id) => {
    const { inputs, expected } = checkValue(id);
    expect(worstDifference(extremes(inputs.pitch_over_d), expected as number[])).toBeLessThan(2e-5);
  });

  it.each(["0.4", "0.5", "0.589", "0.7", "0.8", "1"])("ripple.modulation.%s", (ratio) => {
    const id = `ripple.modulation.${ratio}`;
    const [least, most] = extremes(checkValue(id).inputs.pitch_over_d);
    const modulation = (most - least) / (most + least);
    expect(Math.abs(modulation - checkNumber(id))).toBeLessThan(2e-5);
  });
});

describe("strips", () => {
  it("rows of a strip are the same rows of the whole", () => {
    const bits = randomBits(columns, rows, 0.5, 6);
    const motion = { ...ideal, firingLagUs: 20, lineShiftMm: 0.01 };
    const plan = planExposure({ alongMm: 0.06, acrossMm: 0.04 }, round(0.115), motion);
    const whole = doseOf(plan, bits, columns, rows);
    const perRow = columns * plan.samplesAlong * plan.samplesAcross;
    for (const [first, end] of [
      [0, 1],
      [0, 4],
      [4, 5],
      [5, rows],
      [rows - 1, rows],
    ]) {
      const strip = doseOf(plan, bits, columns, rows, first, end);
      expect([...strip]).toEqual([...whole.subarray(first * perRow, end * perRow)]);
    }
  });

  it("asks for each line once, from the top, and only those that the spot reaches", () => {
    const side = 40;
    const plan = planExposure(square(0.05), round(0.1), ideal);
    const asked: number[] = [];
    const blank = new Uint8Array(side / 8);
    const { reach } = plan.across;
    // 5.5σ = 0.1375 mm are 2.75 lines; the outermost samples lie a third of a line off the middle.
    expect(reach).toBe(3);
    const row = (y: number) => {
      asked.push(y);
      return blank;
    };
    exposeRows(
      { plan, memory: simdMemory },
      { columns: side, rows: side, row },
      { firstRow: 20, endRow: 25 },
      () => {},
    );
    expect(asked).toEqual(Array.from({ length: 11 }, (_, i) => 17 + i));
  });
});

describe("sampling", () => {
  it("is never coarser than a fifth of the spot, a tenth where lines stand apart, and no finer than it need be", () => {
    for (let n = 0; n < 200; n++) {
      const spot = { alongMm: 0.02 + n / 900, acrossMm: 0.3 - n / 900 };
      const pitch = { alongMm: 0.01 + ((n * 37) % 100) / 400, acrossMm: 0.01 + ((n * 61) % 100) / 400 };
      const plan = planExposure(pitch, spot, ideal);
      for (const [pitchMm, spotMm, samples] of [
        [pitch.alongMm, spot.alongMm, plan.samplesAlong],
        [pitch.acrossMm, spot.acrossMm, plan.samplesAcross],
      ]) {
        const perSpot = Math.min(spotMm / pitchMm < 1.5 ? 10 : 5, (64 * spotMm) / pitchMm);
        expect((samples * spotMm) / pitchMm).toBeGreaterThanOrEqual(perSpot * (1 - 1e-8));
        expect(((samples - 2) * spotMm) / pitchMm).toBeLessThan(perSpot);
      }
    }
  });

  it("is three times as close on the sharpest material, across the lines alone, and no more than 64 to a pixel", () => {
    // From luminance 0.05 to 0.6 within a dose of 0.05: a slope far beyond 470 L* per unit of dose.
    const curve = createResponse([
      [0, 0.05],
      [0.3, 0.05],
      [0.35, 0.6],
      [1, 0.6],
    ]);
    const samplesOf = (spotMm: number) => {
      const spot = { alongMm: spotMm, acrossMm: spotMm };
      const plan = planExposure({ alongMm: 0.1, acrossMm: 0.1 }, spot, ideal, { material: { curve } });
      return [plan.samplesAlong, plan.samplesAcross];
    };
    expect(samplesOf(0.1)).toEqual([10, 30]);
    expect(samplesOf(0.05)).toEqual([20, 60]);
    expect(samplesOf(0.01)).toEqual([64, 64]);
  });

  // Reference: 40 samples per spot.
  it.each([
    [1.7, 6],
    [2, 5],
    [2.5, 4],
    [2.8, 3],
    [5, 2],
  ])("leaves no bias on a steep material, overdrive %d", (overdrive, samples) => {
    const [side, margin] = [72, 16];
    const pitch = square(0.115 / overdrive);
    const curve = createResponse(steepPoints);
    const material = { curve };
    const bits = halftoneOf("clustered-dot", pitch, round(0.115));
    const lightness = (needs: PlanNeeds, share: number): number => {
      const plan = planExposure(pitch, round(0.115), ideal, needs);
      const tint = unpackBitmap(bits(new Int16Array(side * side).fill(share * FRACTION_ONE), side, side));
      const luminance = luminanceOf(plan, curve, tint, side, side);
      const inner = luminance.filter((_, i) => {
        const [x, y] = [i % side, Math.floor(i / side)];
        return Math.min(x, y) >= margin && Math.max(x, y) < side - margin;
      });
      return lightnessFromLuminance(meanOver(inner));
    };
    expect(planExposure(pitch, round(0.115), ideal, { material }).samplesAcross).toBe(samples);
    for (const share of [0.25, 0.5, 0.8]) {
      const fine = lightness({ refinement: Math.ceil(40 / (samples * overdrive)), material }, share);
      expect(Math.abs(lightness({ material }, share) - fine)).toBeLessThan(0.1);
    }
  });

  it("takes no more on a gradual material than it needs, and between the two something in between", () => {
    const samples = (luminance: number, overdrive: number): number => {
      // Straight in luminance: L* falls by 903.3 for each 1 of it near black, so the slope is 903.3 times that of the luminance.
      const curve = createResponse([
        [0, luminance],
        [1, 0],
      ]);
      return planExposure(square(0.1 / overdrive), round(0.1), ideal, { material: { curve } }).samplesAlong;
    };
    // Slopes of 117, 160 and 208.
    expect([0.13, 0.177, 0.23].map((luminance) => samples(luminance, 1.6))).toEqual([4, 5, 7]);
    expect([0.13, 0.177, 0.23].map((luminance) => samples(luminance, 2.6))).toEqual([2, 3, 3]);
    expect([0.13, 0.23].map((luminance) => samples(luminance, 1.4))).toEqual([8, 8]);
  });

  it("does not round an exact ratio up", () => {
    expect(planExposure(square(0.115 / 5), round(0.115), ideal).samplesAcross).toBe(1);
    expect(planExposure(square(0.1), round(0.1), ideal).samplesAcross).toBe(10);
    expect(planExposure(square(0.05), round(0.1), ideal, { refinement: 3 }).samplesAlong).toBe(9);
  });
});
