import { describe, expect, it } from "vitest";
import { defaultLinesPerInch } from "../../src/core/default-density.js";
import { type PrepareOptions, resolveOptions } from "../../src/options/options.js";
import { steepPoints } from "../support/materials.js";
import { refusalOf } from "../support/refusal.js";

/** Options as a caller without types may hand them over. */
const refusal = (options: unknown) => refusalOf(() => resolveOptions(options as PrepareOptions));

const coating = {
  name: "coating on a buoy",
  response: steepPoints,
  bareColor: "#eeeeee",
  markedColor: "#222222",
  source: "made up",
};

describe("options", () => {
  it("need none: wood at the density that a plan would choose for a 0.1 mm spot", () => {
    const options = resolveOptions({});
    expect(options.spot).toEqual({ alongMm: 0.1, acrossMm: 0.1 });
    expect(options.material.name).toBe("maple");
    expect(25.4 / options.pitch.acrossMm).toBeCloseTo(defaultLinesPerInch(0.1, options.material), 9);
    expect(options.pitch.alongMm).toBe(options.pitch.acrossMm);
    expect(options).toMatchObject({
      kind: "auto",
      levels: 2,
      method: "auto",
      scan: "serpentine",
      toneMap: "lightness",
      compensate: true,
      fit: "cover",
      spread: { common: 0.08, local: 0.04, localLengthMm: 2, line: 0.04, spot: 0.05 },
      viewDistanceMm: 300,
      firingLagUs: 0,
      firingLossUs: 0,
      lineShiftMm: 0,
      oneWay: false,
      format: "png",
    });
    expect(options.widthMm).toBeUndefined();
  });

  it("take the variation of a machine in parts, and the dose spread as its common part", () => {
    const { spread } = resolveOptions({ spread: { line: 0.06, localLengthMm: 0.5, spot: 0 } });
    expect(spread).toEqual({ common: 0.08, local: 0.04, localLengthMm: 0.5, line: 0.06, spot: 0 });
    // Three equal weights 1 − s, 1, 1 + s have the variance 2s²/3: 0.15·√(2/3) = 0.122474 (arithmetic).
    const both = resolveOptions({ doseSpread: 0.15, spread: { local: 0 } }).spread;
    expect(both).toMatchObject({ common: expect.closeTo(0.122474, 6), local: 0, line: 0.04 });
    expect(resolveOptions({ doseSpread: 0 }).spread.common).toBe(0);
    // The largest of both forms: three equal weights 1 − s, 1, 1 + s have the standard deviation s·√(2/3).
    expect(resolveOptions({ doseSpread: 0.3 }).spread.common).toBeCloseTo(0.3 * Math.sqrt(2 / 3), 12);
    expect(refusal({ doseSpread: 0.31 }).message).toMatch(/doseSpread takes 0 to 30 %/);
  });

  it("refuse the common part twice, whatever the other parts", () => {
    const error = refusal({ doseSpread: 0.1, spread: { common: 0.08, line: 0.02 } });
    expect(error).toMatchObject({ code: "OPTION_CONFLICT", option: "doseSpread", received: 0.1 });
    expect(error.message).toMatch(/doseSpread and the common part of spread say the same thing twice/);
    expect(refusal({ doseSpread: 0.08, spread: { common: 0.08 } }).code).toBe("OPTION_CONFLICT");
  });

  it.each([
    ["a part that there is not", { grain: 0.04 }],
    ["a single number", 0.04],
  ])("refuse a spread of %s, and say which parts there are", (_, spread) => {
    const error = refusal({ spread });
    expect(error).toMatchObject({ code: "OPTION_INVALID", option: "spread" });
    expect(error.message).toMatch(/spread.*local=3%,line=5%,spot=4%,common=8%.*local-length=2mm/);
  });

  it.each([
    ["more than a quarter", { local: 0.26 }, /^spread takes local from 0 to 0\.25; got/],
    ["less than nothing", { line: -0.01 }, /^spread takes line from 0 to 0\.25; got/],
    ["a field of no length", { localLengthMm: 0 }, /^spread takes localLengthMm from 0\.1 to 100; got/],
    [
      "a field longer than 100 mm",
      { localLengthMm: 101 },
      /^spread takes localLengthMm from 0\.1 to 100; got/,
    ],
    ["a text", { spot: "5%" }, /^spread takes spot from 0 to 0\.25; got/],
    ["not a number", { common: Number.NaN }, /^spread takes common from 0 to 0\.25; got/],
  ])("refuse a spread of %s, and say what that part takes", (_, spread, words) => {
    const error = refusal({ spread });
    expect(error).toMatchObject({ code: "OPTION_INVALID", option: "spread" });
    expect(error.message).toMatch(words);
  });

  it("take the default density of the spot and the material", () => {
    for (const material of [coating, "maple", "slate"]) {
      const { pitch, spot, material: resolved } = resolveOptions({ material });
      expect(25.4 / pitch.acrossMm).toBeCloseTo(defaultLinesPerInch(spot.acrossMm, resolved), 9);
    }
  });

  it("take an elliptical spot: density follows from its width across", () => {
    const options = resolveOptions({ spotMm: { alongMm: 0.08, acrossMm: 0.2 } });
    expect(options.spot).toEqual({ alongMm: 0.08, acrossMm: 0.2 });
    expect(25.4 / options.pitch.acrossMm).toBeCloseTo(defaultLinesPerInch(0.2, options.material), 9);
    // Screen period: on wood twice the geometric mean, √(0.08 · 0.2); on a coating 2.5 times.
    expect(options.screenLinesPerInch).toBeCloseTo(25.4 / (2 * Math.sqrt(0.016)), 9);
    const coated = resolveOptions({ spotMm: 0.1, material: "coated-steel" });
    expect(coated.screenLinesPerInch).toBeCloseTo(101.6, 9);
  });

  it("pass over from one screen to the other with the tone range", () => {
    const { material, screenLinesPerInch } = resolveOptions({ material: "beech" });
    const gradual = Math.log(material.toneRange * 1.15) / (2 * Math.log(1.15));
    expect(gradual).toBeGreaterThan(0.5);
    expect(gradual).toBeLessThan(0.9);
    expect(screenLinesPerInch).toBeCloseTo(254 / (2.5 - 0.5 * gradual), 9);
  });

  it("keep densities apart where both are given, and what else was asked", () => {
    const options = resolveOptions({
      linesPerInch: 254,
      linesPerInchAlong: 508,
      screenLinesPerInch: 45,
      seed: 7,
    });
    expect(options.pitch.alongMm).toBeCloseTo(0.05, 12);
    expect(options.pitch.acrossMm).toBeCloseTo(0.1, 12);
    expect(options.screenLinesPerInch).toBe(45);
    expect(options.seed).toBe(7);
  });

  it("describe the beam's motion in one place", () => {
    const asked = { speedMmPerS: 400, firingLagUs: 5, firingLossUs: -7, lineShiftMm: -0.02, oneWay: true };
    expect(resolveOptions(asked).motion).toEqual(asked);
  });

  it("are frozen once resolved, and leave the caller's untouched", () => {
    const asked: PrepareOptions = { widthMm: 80 };
    const options = resolveOptions(asked);
    expect(Object.isFrozen(options)).toBe(true);
    expect(asked).toEqual({ widthMm: 80 });
  });

  it("refuse a name that is none of theirs", () => {
    const error = refusal({ linesPerInhc: 254 });
    expect(error.code).toBe("OPTION_UNKNOWN");
    expect(error.option).toBe("linesPerInhc");
  });

  it.each([
    ["linesPerInch", 0],
    ["linesPerInch", -5],
    ["linesPerInch", "254"],
    ["linesPerInch", 1e9],
    ["linesPerInch", Number.NaN],
    ["linesPerInch", null],
    ["linesPerInch", 10n],
    ["linesPerInchAlong", 5],
    ["widthMm", 0],
    ["widthMm", Number.POSITIVE_INFINITY],
    ["spotMm", -0.1],
    ["spotMm", "0.1"],
    ["spotMm", { alongMm: 0.1 }],
    ["fit", "zoom"],
    ["levels", 1],
    ["levels", 2.5],
    ["levels", 257],
    ["levels", "many"],
    ["scan", "spiral"],
    ["clipPercent", 11],
    ["gamma", 0],
    ["doseSpread", -0.1],
    ["oneWay", "yes"],
    ["seed", 1.5],
    ["seed", -1],
    ["format", "jpeg"],
    ["material", 3],
  ])("refuse %s %s, and name it", (option, value) => {
    const error = refusal({ [option]: value });
    expect(error.code).toBe("OPTION_INVALID");
    expect(error.option).toBe(option);
    expect(error.received).toBe(value);
    expect(error.message).toContain(option);
  });

  it.each([[null], ["maple"], [3]])("refuse to be %j", (options) => {
    expect(refusal(options).code).toBe("OPTION_INVALID");
  });

  it("pass on what is wrong with a material", () => {
    expect(refusal({ material: "moonstone" }).code).toBe("OPTION_MATERIAL_UNKNOWN");
    expect(refusal({ material: "pvc" }).code).toBe("OPTION_MATERIAL_FORBIDDEN");
    expect(refusal({ material: { ...coating, response: [] } }).code).toBe("INPUT_MATERIAL_INVALID");
  });
});
