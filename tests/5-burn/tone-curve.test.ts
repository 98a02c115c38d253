import { describe, expect, it } from "vitest";
import { curveFractions } from "../../src/5-burn/curve-fractions.js";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { burnFlatPatch, type HalftoneFunction } from "../../src/5-burn/flat-patch.js";
import { solidLuminance } from "../../src/5-burn/solid-fill.js";
import { invertToneCurve, measureToneCurve, type ToneCurve } from "../../src/5-burn/tone-curve.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { createResponse, luminanceFactorAt, type ResponsePoints } from "../../src/core/material/response.js";
import { packBitmap } from "../../src/core/packed-bits.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../src/core/physics/lightness.js";
import { seededRandom } from "../../src/core/random.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../support/materials.js";
import { halftoneOf, ideal, meanOver, round, simdMemory, square } from "./burning.js";

const size = { columns: 64, rows: 64, marginPx: 24 };

const whiteNoise: HalftoneFunction = (fractions, columns, rows) => {
  const random = seededRandom(7);
  const bits = Uint8Array.from(fractions, (fraction) => (random() < fraction / FRACTION_ONE ? 1 : 0));
  return packBitmap(bits, columns, rows);
};

/** Burns whole lines: the first k of every eight. */
const wholeLines: HalftoneFunction = (fractions, columns, rows) => {
  const bits = Uint8Array.from(fractions, (fraction, i) =>
    Math.floor(i / columns) % 8 < Math.round((8 * fraction) / FRACTION_ONE) ? 1 : 0,
  );
  return packBitmap(bits, columns, rows);
};

function measure(
  points: ResponsePoints,
  pitchMm: number,
  spotMm: number,
  halftone: HalftoneFunction,
  fractions: Float64Array,
  patch = size,
): ToneCurve {
  const response = createResponse(points);
  const plan = planExposure(square(pitchMm), round(spotMm), ideal);
  const ends = { bare: response.bare, solid: solidLuminance({ plan, response, memory: simdMemory }) };
  return measureToneCurve({ plan, response, memory: simdMemory }, halftone, fractions, patch, ends);
}

const eighths = Float64Array.from({ length: 9 }, (_, i) => i / 8);

describe("tone curve", () => {
  it("is a straight line for a linear response, however the bits lie", () => {
    const linear: ResponsePoints = [
      [0, 0.9],
      [8, 0.1],
    ];
    const { luminance } = measure(linear, 0.05, 0.115, whiteNoise, eighths);
    // Five standard errors of the share of 4096 random bits: 5·0.5/64, times a slope of 0.1.
    luminance.forEach((value, i) => {
      expect(Math.abs(value - (0.9 - (0.1 * i) / 8))).toBeLessThan(0.004);
    });
  });

  it("is a straight line between bare and solid where lines do not touch (Murray 1936)", () => {
    const { luminance } = measure(steepPoints, 0.4, 0.05, wholeLines, eighths, {
      columns: 8,
      rows: 16,
      marginPx: 8,
    });
    const [bare, solid] = [luminance[0], luminance[8]];
    expect(bare).toBe(0.6);
    expect(solid).toBeGreaterThan(0.5);
    luminance.forEach((value, i) => {
      expect(Math.abs(value - (bare + ((solid - bare) * i) / 8))).toBeLessThan(1e-6);
    });
  });

  it("is the response itself where the spot is so large that the dose is even", () => {
    // With sixteen pixels per spot no blue-noise texture is left. Other tests compare the response with SciPy's PCHIP.
    const blueNoise = halftoneOf("blue-noise", square(0.025), round(0.4));
    const { fractions, luminance } = measure(gradualPoints, 0.025, 0.4, blueNoise, eighths);
    const response = createResponse(gradualPoints);
    fractions.forEach((fraction, i) => {
      expect(Math.abs(luminance[i] - luminanceFactorAt(response, fraction))).toBeLessThan(0.004);
    });
  });

  it.each([
    ["falls", gradualPoints, -1],
    ["rises", lighteningPoints, 1],
  ] as const)("%s throughout, and starts at the bare surface", (_, points, sign) => {
    const fractions = curveFractions(createResponse(points), 65);
    const floydSteinberg = halftoneOf("floyd-steinberg", square(0.05), round(0.115));
    const { luminance } = measure(points, 0.05, 0.115, floydSteinberg, fractions);
    expect(luminance[0]).toBe(points[0][1]);
    for (let i = 1; i < luminance.length; i++) {
      expect(sign * (luminance[i] - luminance[i - 1])).toBeGreaterThanOrEqual(0);
    }
  });
});

describe("fractions to measure at", () => {
  it("rise from 0 to 1, evenly for one half, and at even steps of L* along the response for the other", () => {
    const response = createResponse(steepPoints);
    const fractions = curveFractions(response, 65);
    expect(fractions[0]).toBe(0);
    expect(fractions[fractions.length - 1]).toBe(1);
    for (let i = 1; i < fractions.length; i++) expect(fractions[i]).toBeGreaterThan(fractions[i - 1]);
    expect(fractions.length).toBeGreaterThanOrEqual(60);
    for (let i = 1; i < 33; i++) expect(fractions).toContain(i / 33);
    const steps = [...fractions]
      .filter((fraction) => !Array.from({ length: 34 }, (_, i) => i / 33).includes(fraction))
      .map((fraction) => lightnessFromLuminance(luminanceFactorAt(response, fraction)));
    const wanted = (lightnessFromLuminance(0.6) - lightnessFromLuminance(0.05)) / 33;
    // Each dose is the first of the response's table that is far enough: steps are out by less than one of the table's.
    const lightness = Array.from({ length: response.stepsPerDose + 1 }, (_, k) =>
      lightnessFromLuminance(luminanceFactorAt(response, k / response.stepsPerDose)),
    );
    const tableStep = Math.max(...lightness.slice(1).map((value, k) => Math.abs(value - lightness[k])));
    expect(tableStep).toBeLessThan(0.1);
    for (let i = 1; i < steps.length; i++) {
      expect(Math.abs(steps[i - 1] - steps[i] - wanted)).toBeLessThan(tableStep);
    }
  });

  it("leave out doses that a solid fill does not reach", () => {
    const slow = createResponse([
      [0, 0.8],
      [4, 0.1],
    ]);
    for (const fraction of curveFractions(slow, 65)) expect(fraction).toBeLessThanOrEqual(1);
  });
});

describe("inverted tone curve", () => {
  const curve = (fractions: number[], luminance: number[]) => ({
    fractions: Float64Array.from(fractions),
    luminance: Float64Array.from(luminance),
  });

  it("goes back through the measured points, straight between them, and stays at the ends", () => {
    for (const luminance of [
      [0.8, 0.5, 0.1],
      [0.1, 0.5, 0.8],
    ]) {
      const burn = invertToneCurve(curve([0, 0.25, 1], luminance));
      luminance.forEach((value, i) => {
        expect(burn(value)).toBe([0, 0.25, 1][i]);
      });
      expect(burn((luminance[0] + 0.5) / 2)).toBeCloseTo(0.125, 12);
      expect(burn((luminance[2] + 0.5) / 2)).toBeCloseTo(0.625, 12);
      const [least, most] = luminance[0] > luminance[2] ? [1, 0] : [0, 1];
      expect([burn(-1), burn(2)]).toEqual([least, most]);
    }
  });

  it("burns least where the surface is saturated, and nothing where it is bare", () => {
    const burn = invertToneCurve(curve([0, 0.2, 0.6, 0.8, 1], [0.6, 0.6, 0.05, 0.05, 0.05]));
    expect(burn(0.05)).toBe(0.6);
    expect(burn(0.6)).toBe(0);
    const flat = invertToneCurve(curve([0, 0.5, 1], [0.3, 0.3, 0.3]));
    expect(flat(0.3)).toBe(0);
  });

  it("starts from the far end of a flat part for tones just beyond it", () => {
    const burn = invertToneCurve(curve([0, 0.2, 0.4, 0.6, 1], [0.6, 0.6, 0.4, 0.4, 0.2]));
    expect(burn(0.5)).toBeCloseTo(0.3, 12);
    expect(burn(0.4)).toBe(0.4);
    expect(burn(0.3)).toBeCloseTo(0.8, 12);
  });
});

describe("a flat tint engraved through the inverted curve", () => {
  const spot = round(0.115);
  const lightGradual: ResponsePoints = gradualPoints.map(([dose, y]) => [dose, 0.63 - y]);

  /** Wanted and engraved L* of 15 tints, engraved on other patches than the curve was measured on; and the halftone. */
  function engraved(method: string, points: ResponsePoints, linesPerInch: number) {
    const pitch = square(25.4 / linesPerInch);
    const response = createResponse(points);
    const plan = planExposure(pitch, spot, ideal);
    const ends = { bare: response.bare, solid: solidLuminance({ plan, response, memory: simdMemory }) };
    const halftone = halftoneOf(method, pitch, spot);
    const patch = { columns: 96, rows: 96, marginPx: 24 };
    const curve = measureToneCurve(
      { plan, response, memory: simdMemory },
      halftone,
      curveFractions(response, 129),
      patch,
      ends,
    );
    const burn = invertToneCurve(curve);
    const other = { columns: 128, rows: 100, marginPx: 24 };
    const tint = (fraction: number): number =>
      lightnessFromLuminance(
        meanOver(
          burnFlatPatch({ plan, response, memory: simdMemory }, halftone, fraction, other, [1]).planes[0],
        ),
      );
    const [from, to] = [lightnessFromLuminance(ends.bare), lightnessFromLuminance(ends.solid)];
    const tints = Array.from({ length: 15 }, (_, i) => {
      const wanted = from + ((to - from) * (i + 1)) / 16;
      return { wanted, got: tint(burn(luminanceFromLightness(wanted))) };
    });
    return { tints };
  }

  function worstError(method: string, points: ResponsePoints, linesPerInch: number): number {
    const { tints } = engraved(method, points, linesPerInch);
    return Math.max(...tints.map(({ wanted, got }) => Math.abs(got - wanted)));
  }

  it.each([
    ["floyd-steinberg", "darkens", gradualPoints],
    ["floyd-steinberg", "lightens", lightGradual],
    ["blue-noise", "darkens", gradualPoints],
    ["blue-noise", "lightens", lightGradual],
    ["green-noise", "darkens", gradualPoints],
    ["green-noise", "lightens", lightGradual],
  ] as const)("comes out within 0.2 L*: %s on a material that %s", (method, _, points) => {
    expect(worstError(method, points, 508)).toBeLessThan(0.2);
  });

  // A steep response magnifies the jumps of texture at simple fractions.
  it.each(["floyd-steinberg", "blue-noise", "green-noise"])(
    "comes out within 0.4 L*: %s on a steep one",
    (method) => {
      expect(worstError(method, steepPoints, 508)).toBeLessThan(0.4);
      expect(worstError(method, lighteningPoints, 508)).toBeLessThan(0.4);
    },
  );

  // A supercell of 512 pixels has tones enough that its steps hide below this.
  it.each([
    ["darkens", gradualPoints],
    ["lightens", lightGradual],
  ] as const)("comes out within 0.4 L*: clustered-dot on a material that %s", (_, points) => {
    expect(worstError("clustered-dot", points, 508)).toBeLessThan(0.4);
  });
});
