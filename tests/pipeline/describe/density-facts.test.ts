import { describe, expect, it } from "vitest";
import { findMaterial, resolveMaterial } from "../../../src/core/material/material.js";
import { pitchMmFromLinesPerInch } from "../../../src/core/units.js";
import { densityFacts, lineMarkMm } from "../../../src/pipeline/describe/density-facts.js";
import { checkNumber, checkValue } from "../../support/check-values.js";

const spot = { alongMm: 0.115, acrossMm: 0.115 };
const maple = findMaterial("maple");
const at = (linesPerInch: number, material = maple) => {
  const pitchMm = pitchMmFromLinesPerInch(linesPerInch);
  return densityFacts({ alongMm: pitchMm, acrossMm: pitchMm }, spot, material);
};

// Energy balance: the mean dose of a fill is P/(v·pitch), and passes add.
describe("the dose of several passes", () => {
  const pitch = { alongMm: 0.05, acrossMm: 0.05 };
  const referred = { ...maple, referencePitchMm: 0.1 };

  it.each([
    [1, referred, 2],
    [3, referred, 6],
    [3, maple, 3],
    // Section 14: n lines of dose δ at one place give (n·δ^q)^(1/q) = δ·n^(1/q).
    [4, { ...maple, lineExponent: 2 }, 2],
  ])("%d passes of maple at 0.05 mm", (passes, material, factor) => {
    const facts = densityFacts(pitch, spot, material, { passes });
    expect(facts.solidDoseFactor).toBeCloseTo(factor, 12);
    expect(facts.powerFactor).toBeCloseTo(1 / factor, 12);
  });
});

// Geometry and the definition of the inch; see the check values.
describe("a 0.115 mm spot", () => {
  it("leaves gaps at 150 lines per inch and none at 225", () => {
    expect(at(150).gapMm).toBeCloseTo(checkNumber("density.150.gap"), 6);
    expect(at(225).gapMm).toBe(0);
  });

  it.each([150, 225, 300, 800])("overlaps as tabulated at %d lines per inch", (linesPerInch) => {
    expect(at(linesPerInch).overlap).toBeCloseTo(checkNumber(`density.${linesPerInch}.overlap`), 6);
  });
});

// Poisson summation of equally spaced Gaussians; see the check values.
const atPitch = (pitchMm: number) => densityFacts({ alongMm: pitchMm, acrossMm: pitchMm }, spot, maple);

it.each(["0.4", "0.5", "0.7", "0.8", "1"])("ripples as tabulated at pitch = %s spots", (ratio) => {
  const { ripple } = atPitch(Number(ratio) * spot.acrossMm);
  expect(ripple).toBeCloseTo(checkNumber(`ripple.modulation.${ratio}`), 6);
});

it.each(["0.5", "0.7", "1"])("peaks as tabulated at pitch = %s spots", (ratio) => {
  const [, peak] = checkValue(`ripple.minmax.${ratio}`).expected as readonly number[];
  expect(atPitch(Number(ratio) * spot.acrossMm).peakDose).toBeCloseTo(peak, 6);
});

it.each(["0.01", "0.02", "0.05", "0.1"])("ripples by %s at the pitch tabulated for it", (modulation) => {
  const { ripple } = atPitch(checkNumber(`ripple.pitch.${modulation}`) * spot.acrossMm);
  expect(ripple / Number(modulation)).toBeCloseTo(1, 3); // the table's is the first harmonic
});

it("has the peak dose of lines that do not add, by their squares summed", () => {
  const pitchMm = spot.acrossMm / 4;
  const lines = Array.from({ length: 41 }, (_, k) => Math.exp(-8 * ((k - 20) / 4) ** 2) ** 2);
  const summed = (Math.sqrt(8 / Math.PI) / 4) * Math.sqrt(lines.reduce((sum, each) => sum + each));
  const squared = densityFacts({ alongMm: pitchMm, acrossMm: pitchMm }, spot, { ...maple, lineExponent: 2 });
  expect(squared.peakDose).toBeCloseTo(summed, 9);
  expect(squared.peakDose).toBeCloseTo(0.53, 2);
  expect(atPitch(pitchMm).peakDose).toBeCloseTo(1, 6);
});

describe("dose at unchanged power and speed", () => {
  it("goes with the density: 800 against 300 is 2.667 times", () => {
    const steel = findMaterial("coated-steel");
    const [dense, sparse] = [at(800, steel), at(300, steel)];
    expect(dense.solidDoseFactor / sparse.solidDoseFactor).toBeCloseTo(checkNumber("time.ratio.lines"), 6);
    expect(dense.solidDoseFactor * dense.powerFactor).toBeCloseTo(1, 12);
    expect(at(254, steel).solidDoseFactor).toBeCloseTo(1, 12); // measured at 0.1 mm
  });
});

/** Dose half-way in luminance by straight lines between the points of a table that rises. */
function halfOf(points: readonly (readonly [number, number])[]): number {
  const half = (points[0][1] + points[points.length - 1][1]) / 2;
  const after = points.findIndex(([, luminance]) => luminance > half);
  const [[d0, y0], [d1, y1]] = [points[after - 1], points[after]];
  return d0 + ((d1 - d0) * (half - y0)) / (y1 - y0);
}

describe("width that a line marks", () => {
  // W = w √(2 ln(H0/Hth)), Liu 1982: a line of 0.35 J/mm² over a threshold of 0.1, w = 0.0575 mm.
  it("is that of the check value where its dose passes the threshold", () => {
    const { H0_J_mm2, Hth_J_mm2, w_mm } = checkValue("line.width.threshold").inputs;
    const mark = checkNumber("line.width.threshold");
    // The peak of a line is √(8/π) · pitch / spot in doses of its solid fill; a step at the threshold then needs this dose.
    const peak = Math.sqrt(8 / Math.PI) * (0.1 / (2 * w_mm));
    const step = (peak * Hth_J_mm2) / H0_J_mm2;
    const coating = resolveMaterial({
      name: "step",
      response: [
        [0, 0.05],
        [step * 0.999, 0.05],
        [step * 1.001, 0.6],
        [2, 0.6],
      ],
      bareColor: "#000000",
      markedColor: "#ffffff",
      referencePitchMm: 0.1,
      source: "made up",
    });
    expect(coating.shape).toBe("steep");
    expect(lineMarkMm({ alongMm: 2 * w_mm, acrossMm: 2 * w_mm }, coating)).toBeCloseTo(mark, 4);
  });

  it("ends where half of the light is gone, as a solid edge does, and not half of L*", () => {
    // Straight in luminance from 0.6 to 0.02 between the doses 0.4 and 0.6: half of the light is gone at 0.5. Half of L*, from
    // 81.8 to 15.5, is gone at Y = 0.176, dose 0.546.
    const ink = resolveMaterial({
      ...{
        name: "ink",
        bareColor: "#ffffff",
        markedColor: "#000000",
        referencePitchMm: 0.1,
        source: "made up",
      },
      response: [0, 0.4, 0.45, 0.5, 0.55, 0.6, 1].map((dose, k) => [
        dose,
        [0.6, 0.6, 0.455, 0.31, 0.165, 0.02, 0.02][k],
      ]),
    });
    // The line's own profile, walked outwards to that dose.
    const peak = Math.sqrt(8 / Math.PI) * (0.1 / 0.115);
    let offsetMm = 0;
    while (peak * Math.exp(-8 * (offsetMm / 0.115) ** 2) > 0.5) offsetMm += 1e-6;
    expect(lineMarkMm(spot, ink)).toBeCloseTo(2 * offsetMm, 4);
  });

  it("passes over from one to the other near the border of steep and gradual", () => {
    const anodised = findMaterial("black-anodised-aluminium");
    const steep = 0.115 * Math.sqrt(Math.log((1.5958 * (0.1 / 0.115)) / halfOf(anodised.response)) / 2);
    const gradual = Math.log(anodised.toneRange * 1.15) / (2 * Math.log(1.15));
    expect(lineMarkMm(spot, anodised)).toBeCloseTo(steep + gradual * (0.115 - steep), 4);
    expect(gradual).toBeGreaterThan(0.2);
    expect(gradual).toBeLessThan(0.5);
  });

  it("is the spot on a gradual material, and the same at every density", () => {
    expect(lineMarkMm(spot, maple)).toBe(0.115);
    const steel = findMaterial("coated-steel");
    expect(at(150, steel).markWidthMm).toBe(at(800, steel).markWidthMm);
  });
});
