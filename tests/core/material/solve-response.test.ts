import { describe, expect, it } from "vitest";
import { isotonicRegression } from "../../../src/core/isotonic.js";
import { type MaterialData, resolveMaterial } from "../../../src/core/material/material.js";
import { luminanceFactorAt, type ResponsePoints } from "../../../src/core/material/response.js";
import { solveResponse } from "../../../src/core/material/solve-response.js";
import { monotoneCubic } from "../../../src/core/monotone-cubic.js";
import { seededRandom } from "../../../src/core/random.js";
import { askReference, hasReference } from "../../support/reference.js";
import { fillLuminance, lightness, meanOver, measuredTable, type Truth, tintDoses } from "./rippled-fills.js";

/** A surface that changes over a wider or narrower range of dose: 1/(1 + (dose/middle)^steepness) from bare to marked. */
const surface =
  (bare: number, marked: number, middle: number, steepness: number): Truth =>
  (dose) =>
    marked + (bare - marked) / (1 + (dose / middle) ** steepness);

const truths: readonly (readonly [string, Truth])[] = [
  ["gradual", surface(0.55, 0.05, 0.35, 2.2)],
  ["middling", surface(0.6, 0.05, 0.4, 4)],
  ["steep", surface(0.6, 0.05, 0.35, 9)],
  ["lightening", surface(0.1, 0.6, 0.35, 6)],
];

const matchedMm = 0.115;
/** Fills from 0 to 1.25 in steps of a twentieth. */
const doses = Array.from({ length: 26 }, (_, i) => i / 20);

function measured(truth: Truth, pitchMm: number, changes: Partial<MaterialData> = {}) {
  return resolveMaterial({
    name: "tide board",
    response: measuredTable(truth, doses, pitchMm, matchedMm),
    bareColor: "#808080",
    markedColor: "#808080",
    source: "measured",
    referencePitchMm: pitchMm,
    ...changes,
  });
}

/** Inverse of CIE 1976 lightness (CIE 15), above 8. */
const luminanceOf = (tone: number): number => ((tone + 16) / 116) ** 3;

/** Fills with a normal error of their tone, in L*, made monotone as a table must be. The bare surface has none. */
function noisyTable(truth: Truth, error: number, random: () => number): ResponsePoints {
  // The sum of twelve random numbers has a variance of 1 and nearly a normal distribution.
  const normal = () => Array.from({ length: 12 }, random).reduce((sum, each) => sum + each, -6);
  const table = measuredTable(truth, doses, matchedMm, matchedMm);
  const tones = table.map(([, luminance], row) => lightness(luminance) + (row === 0 ? 0 : error * normal()));
  const falling = isotonicRegression(tones.map((tone) => -tone)).map((tone) => -tone);
  return table.map(([dose, clean], row) => {
    const noisy = Math.min(table[0][1], luminanceOf(falling[row]));
    return [dose, row === 0 ? clean : noisy] as const;
  });
}

const tints = tintDoses(0.05, matchedMm);

/** Largest error in L* of tints at 508 lines per inch, and of fills at half the pitch of the measured ones. */
function worstErrors(truth: Truth, { curve }: ReturnType<typeof measured>): { tints: number; fills: number } {
  const predicted: Truth = (dose) => luminanceFactorAt(curve, dose);
  const inTint = tints.map((each) => lightness(meanOver(predicted, each)) - lightness(meanOver(truth, each)));
  const inFill = doses.slice(0, 21).map((dose) => {
    const tone = (of: Truth) => lightness(fillLuminance(of, dose, matchedMm / 2, matchedMm));
    return tone(predicted) - tone(truth);
  });
  return { tints: Math.max(...inTint.map(Math.abs)), fills: Math.max(...inFill.map(Math.abs)) };
}

describe("a machine whose fills were measured at the matched pitch", () => {
  it.each(truths)("is predicted right on a %s surface", (_, truth) => {
    const before = worstErrors(truth, measured(truth, matchedMm));
    const after = worstErrors(truth, measured(truth, matchedMm, { referenceSpotMm: matchedMm }));
    expect(before.fills).toBeGreaterThan(4.5);
    expect(after.tints).toBeLessThan(0.2);
    expect(after.fills).toBeLessThan(0.3);
  });

  it("is predicted right with gaps between its fills too", () => {
    for (const [name, truth] of truths) {
      const after = worstErrors(truth, measured(truth, 0.15, { referenceSpotMm: matchedMm }));
      expect(after.tints, name).toBeLessThan(0.2);
    }
  });

  it("does not swell the noise of the measurement: 0.3 L* in each fill stay under 1 L* rms in tints", () => {
    const random = seededRandom(8);
    for (const [name, truth] of truths.slice(0, 3)) {
      const squares = [1, 2, 3, 4, 5, 6].flatMap(() => {
        const response = noisyTable(truth, 0.3, random);
        const { curve, doubts } = measured(truth, matchedMm, { response, referenceSpotMm: matchedMm });
        expect(doubts, name).toEqual([]);
        const predicted: Truth = (dose) => luminanceFactorAt(curve, dose);
        return tints.map(
          (each) => (lightness(meanOver(predicted, each)) - lightness(meanOver(truth, each))) ** 2,
        );
      });
      expect(Math.sqrt(squares.reduce((sum, each) => sum + each, 0) / squares.length), name).toBeLessThan(1);
    }
  });

  it("counts the spot across the lines, not the one along them", () => {
    const [, truth] = truths[1];
    const referenceSpotMm = { alongMm: 0.3, acrossMm: matchedMm };
    expect(measured(truth, matchedMm, { referenceSpotMm }).curve.points).toEqual(
      measured(truth, matchedMm, { referenceSpotMm: matchedMm }).curve.points,
    );
  });

  it("keeps the table as it was given, for those who read it again", () => {
    const [, truth] = truths[1];
    const material = measured(truth, matchedMm, { referenceSpotMm: matchedMm });
    expect(material.response).toEqual(measuredTable(truth, doses, matchedMm, matchedMm));
    expect(material.curve.points).not.toEqual(material.response);
    // Steeper than its fills, because the ripple spreads their change over more doses.
    expect(material.toneRange).toBeLessThan(0.9 * measured(truth, matchedMm).toneRange);
  });
});

const falling: ResponsePoints = doses.map((dose) => [dose, truths[2][1](dose)] as const);

describe("the response solved for", () => {
  it("is the table itself if the fills have no ripple: four lines to a spot", () => {
    const { points, departure } = solveResponse(falling, 0.25);
    expect(points).toEqual(falling);
    expect(departure.lightness).toBeLessThan(0.01);
  });

  it("is the table where the response is straight: the mean dose of a fill is its dose at any pitch", () => {
    // Straight up to the line centres of the last fill, 1.6 · 1.25 = 2, where 0.1 of the light is left.
    const straight = doses.map((dose) => [dose, 0.7 - 0.3 * dose] as const);
    const { points } = solveResponse(straight, 1);
    const solved = monotoneCubic(
      points.map(([dose]) => dose),
      points.map(([, luminance]) => luminance),
    );
    for (const [dose, luminance] of straight) {
      expect(Math.abs(lightness(solved(dose)) - lightness(luminance)), `${dose}`).toBeLessThan(0.05);
    }
    for (const pitch of [0.25, 0.5, 1]) {
      const mean = fillLuminance(solved, 0.6, pitch * matchedMm, matchedMm);
      expect(Math.abs(lightness(mean) - lightness(0.7 - 0.3 * 0.6)), `${pitch}`).toBeLessThan(0.05);
    }
  });

  it("follows lines that do not add, against fills summed with their exponent", () => {
    // Section 14: (Σ dose^q)^(1/q) at 400 places of a fill at the matched pitch, lines as Gaussians of σ = d/4.
    const [q, truth] = [1.5, truths[1][1]];
    const relative = Array.from({ length: 400 }, (_, place) => {
      let sum = 0;
      for (let line = -6; line <= 6; line++) {
        const z = 4 * (place / 400 - line);
        sum += ((4 / Math.sqrt(2 * Math.PI)) * Math.exp(-0.5 * z * z)) ** q;
      }
      return sum ** (1 / q);
    });
    const table = doses.map((dose) => {
      const mean = relative.reduce((sum, ripple) => sum + truth(dose * ripple), 0) / relative.length;
      return [dose, mean] as const;
    });
    const worst = (lineExponent: number): number => {
      const { curve } = measured(truth, matchedMm, {
        response: table,
        referenceSpotMm: matchedMm,
        lineExponent,
      });
      const tones = doses.slice(0, 21).map((dose) => lightness(luminanceFactorAt(curve, dose)));
      return Math.max(...tones.map((tone, k) => Math.abs(tone - lightness(truth(doses[k])))));
    };
    expect(worst(q)).toBeLessThan(0.6);
    expect(worst(1)).toBeGreaterThan(5);
  });

  it("is monotone, within 0..1, begins with the table and ends at the line centres of its last fill", () => {
    for (const [, truth] of truths) {
      for (const pitch of [0.6, 1, 2]) {
        const table = measuredTable(truth, doses, pitch * matchedMm, matchedMm);
        const { points } = solveResponse(table, pitch);
        expect(points[0]).toEqual(table[0]);
        const sign = Math.sign(table[25][1] - table[0][1]);
        points.slice(1).forEach(([dose, luminance], k) => {
          expect(dose).toBeGreaterThan(points[k][0]);
          expect(sign * (luminance - points[k][1])).toBeGreaterThanOrEqual(0);
          expect(luminance).toBeGreaterThanOrEqual(0);
          expect(luminance).toBeLessThanOrEqual(1);
        });
      }
    }
    // A fill at the matched pitch peaks at 1.5974: see the check value of rippleExtremes.
    const [last] = solveResponse(measuredTable(truths[0][1], doses, matchedMm, matchedMm), 1).points.slice(
      -1,
    );
    expect(last[0] / 1.25).toBeCloseTo(1.597, 2);
  });

  it("is finite and monotone where doses of the table all but coincide", () => {
    const close: ResponsePoints = [
      [0, 0.6],
      [0.3, 0.5],
      [0.3 + 1e-15, 0.4],
      [0.3 + 1e-9, 0.3],
      [1, 0.1],
    ];
    const values = solveResponse(close, 1).points.map(([, luminance]) => luminance);
    values.forEach((luminance, k) => {
      expect(luminance).toBeGreaterThanOrEqual(0);
      if (k > 0) expect(luminance).toBeLessThanOrEqual(values[k - 1]);
    });
  });

  it.skipIf(!hasReference())(
    "reproduces the table by SciPy's PCHIP, and is what SciPy's trust-region least squares finds",
    () => {
      const few = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 1];
      for (const [name, truth] of truths) {
        const table = measuredTable(truth, few, matchedMm, matchedMm);
        const { points, smoothing } = solveResponse(table, 1);
        const [knots, values] = [points.map(([dose]) => dose), points.map(([, luminance]) => luminance)];
        const reference = askReference<{ departure: number; values: number[] }>("scipy_values.py", {
          ...{ task: "response", table, pitchOverSpot: 1, smoothing, knots, values },
        });
        expect(reference.departure, name).toBeLessThan(0.03);
        values.forEach((value, k) => {
          const difference = Math.abs(lightness(value) - lightness(reference.values[k]));
          expect(difference, `${name} at ${knots[k]}`).toBeLessThan(0.05);
        });
      }
    },
  );

  it("is doubted, with the difference, if no surface has such fills", () => {
    // Bare at dose 0.5 and fully marked at 0.55: line centres at 1.6 · 0.5 have marked long before.
    const step: ResponsePoints = [
      [0, 0.6],
      [0.5, 0.6],
      [0.55, 0.05],
      [1, 0.05],
    ];
    const of = (response: ResponsePoints) =>
      measured(truths[0][1], matchedMm, { response, referenceSpotMm: matchedMm });
    const [doubt, ...more] = of(step).doubts;
    expect(more).toEqual([]);
    if (doubt?.doubt !== "fills-not-reproduced") throw new Error(`doubted for ${doubt?.doubt}`);
    // The difference is that of the nearest response, which brute force confirms.
    const { curve } = of(step);
    const fill = fillLuminance((dose) => luminanceFactorAt(curve, dose), doubt.dose, matchedMm, matchedMm);
    const wanted = monotoneCubic([0, 0.5, 0.55, 1], [0.6, 0.6, 0.05, 0.05])(doubt.dose);
    expect(Math.abs(lightness(fill) - lightness(wanted))).toBeCloseTo(doubt.lightness, 2);
    expect(doubt.lightness).toBeGreaterThan(5);
  });
});
