import { describe, expect, it } from "vitest";
import {
  createResponse,
  greatestLightnessSlope,
  luminanceFactorAt,
} from "../../../src/core/material/response.js";
import { seededRandom } from "../../../src/core/random.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../../support/materials.js";
import { askReference, hasReference } from "../../support/reference.js";

describe("response", () => {
  it("goes through its points and holds its ends", () => {
    for (const points of [gradualPoints, steepPoints, lighteningPoints]) {
      const response = createResponse(points);
      for (const [dose, luminance] of points) {
        expect(Math.abs(luminanceFactorAt(response, dose) - luminance)).toBeLessThan(1e-6);
      }
      const [, end] = points[points.length - 1];
      expect(luminanceFactorAt(response, 50)).toBeCloseTo(end, 7);
      expect(response.bare).toBe(points[0][1]);
      expect(response.saturated).toBe(end);
    }
  });

  // L* = 903.3 Y below Y = 0.008856 (CIE 15), where it is steepest.
  it("knows the greatest slope of L*, whatever the polarity and the range of doses", () => {
    const fading = createResponse([
      [0, 0.5],
      [2, 0],
    ]);
    expect(greatestLightnessSlope(fading)).toBeCloseTo(903.3 / 4, 0);
    const rising = createResponse([
      [0, 0],
      [0.5, 0.4],
    ]);
    expect(greatestLightnessSlope(rising)).toBeCloseTo(903.3 * 0.8, 0);
  });

  it("tells marks that darken from marks that lighten", () => {
    expect(createResponse(steepPoints).darkens).toBe(true);
    expect(createResponse(lighteningPoints).darkens).toBe(false);
  });

  it.skipIf(!hasReference())("is SciPy's PCHIP of the points within 1e-6", () => {
    const at = Array.from({ length: 1101 }, (_, i) => i / 1000);
    const tables = [gradualPoints, steepPoints, lighteningPoints];
    const cases = tables.map((points) => ({ x: points.map(([x]) => x), y: points.map(([, y]) => y), at }));
    const references = askReference<number[][]>("scipy_values.py", { task: "pchip", cases });
    tables.forEach((points, n) => {
      const response = createResponse(points);
      const worst = Math.max(
        ...at.map((dose, i) => Math.abs(luminanceFactorAt(response, dose) - references[n][i])),
      );
      expect(worst).toBeLessThan(1e-6);
    });
  });

  it.skipIf(!hasReference())(
    "is SciPy's PCHIP within 5e-6, whatever the points, corners and steep parts included",
    () => {
      const random = seededRandom(31);
      const at = Array.from({ length: 2003 }, (_, i) => i / 1000);
      const tables = Array.from({ length: 30 }, () => {
        const points = 2 + Math.floor(8 * random());
        // Doses up to 2, the first often above 0, no two nearer than 0.04; luminance factors as they fall.
        const doses = Array.from({ length: points }, (_, k) => ((k + 0.8 * random()) * 2) / points);
        const factors = doses.map(() => random()).sort((a, b) => b - a);
        return doses.map((dose, k) => [dose, factors[k]] as const);
      });
      const cases = tables.map((points) => ({
        x: points.map(([dose]) => dose),
        y: points.map(([, factor]) => factor),
        at: at.map((dose) => Math.min(Math.max(dose, points[0][0]), points[points.length - 1][0])),
      }));
      const references = askReference<number[][]>("scipy_values.py", { task: "pchip", cases });
      tables.forEach((points, n) => {
        const response = createResponse(points);
        const departures = at.map((dose, i) =>
          Math.abs(luminanceFactorAt(response, dose) - references[n][i]),
        );
        expect(Math.max(...departures), JSON.stringify(points)).toBeLessThan(5e-6);
      });
    },
  );

  it("changes nothing below a first dose above 0", () => {
    const response = createResponse([
      [0.2, 0.8],
      [0.6, 0.1],
    ]);
    expect(response.bare).toBe(0.8);
    expect(luminanceFactorAt(response, 0.19)).toBeCloseTo(0.8, 7);
    // The corner lies within a step of the table, 0.6/8192 of dose; with a slope of 1.75 the error is up to 4e-5.
    expect(Math.abs(luminanceFactorAt(response, 0.2) - 0.8)).toBeLessThan(4e-5);
    expect(Math.abs(luminanceFactorAt(response, 0.4) - 0.45)).toBeLessThan(1e-6);
  });

  it("reaches past a dose of 1, and may end before it", () => {
    const long = createResponse([
      [0, 0.9],
      [3, 0.3],
    ]);
    expect(luminanceFactorAt(long, 1.5)).toBeCloseTo(0.6, 6);
    const short = createResponse([
      [0, 0.9],
      [0.25, 0.3],
    ]);
    expect(luminanceFactorAt(short, 0.125)).toBeCloseTo(0.6, 6);
    expect(luminanceFactorAt(short, 0.5)).toBeCloseTo(0.3, 6);
  });
});
