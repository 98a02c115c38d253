import { describe, expect, it } from "vitest";
import { commandReader } from "../../../src/cli/command-reader.js";
import { resolveMaterial } from "../../../src/core/material/material.js";
import { libraryReader } from "../../../src/core/reader.js";
import { type PoweredFill, powerToSet } from "../../../src/pipeline/describe/power-to-set.js";
import { gradualPoints, lighteningPoints } from "../../support/materials.js";

const file = {
  ...{ name: "net float", bareColor: "#e3c9a0", markedColor: "#3a2415", source: "measured" },
  response: gradualPoints,
};
const wood = resolveMaterial(file);
const measured = resolveMaterial({ ...file, referencePitchMm: 0.1 });
const guessed = resolveMaterial({ ...file, referencePitchMm: 0.1, source: "illustrative" });
const job: PoweredFill = { material: wood, pitchMm: 0.085, speedMmPerS: 300, passes: 1, fullTone: undefined };
const found = { percent: 40, pitchMm: 0.1, speedMmPerS: 300 };
const power = (changes: Partial<PoweredFill>) => powerToSet({ ...job, ...changes }, commandReader);

// Factors: pitch / reference pitch (energy balance); 25.4 / 0.1 = 254, 25.4 / 0.085 = 298.8.
describe("the power of a piece", () => {
  it("is a factor on the setting that the user measured with", () => {
    const { message, ...figures } = power({ material: measured });
    expect(figures).toEqual({
      ...{ speedMmPerS: 300, passes: 1, factor: expect.closeTo(0.85, 12) },
      referenceLinesPerInch: expect.closeTo(254, 9),
    });
    expect(message).toMatch(
      /^0\.85 × the power that you used at 254 lines per inch, or .* 1\.18 × its speed/,
    );
    expect(message).not.toContain("power-test");
  });

  it("is the same factor for figures that nobody measured, and how to find the setting", () => {
    const { message, factor, testLinesPerInch } = power({ material: guessed });
    expect(factor).toBeCloseTo(0.85, 12);
    expect(testLinesPerInch).toBeCloseTo(254, 9);
    expect(message).toMatch(
      /^0\.85 × the power that gives full tone at 254 .*"spotpitch power-test --density 254"/,
    );
  });

  it("is a procedure in one line without a reference, in the words of the reader", () => {
    const { message, factor, testLinesPerInch } = power({});
    expect(factor).toBeUndefined();
    expect(testLinesPerInch).toBeCloseTo(298.8, 1);
    expect(message).toMatch(/power-test --density 298\.8".*five powers.*no darker.*--power$/);
    expect(powerToSet(job, libraryReader).message).toMatch(
      /powerTest\(\{ linesPerInch: 298\.8 \}\).*powerPercent$/,
    );
    const slate = resolveMaterial({ ...file, response: lighteningPoints });
    expect(power({ material: slate }).message).toContain("no lighter");
  });

  it.each([
    ["0.85 of 40 %", {}, 34, /^34 % at 300 mm\/s \(.*40 % at 254 lines per inch and 300 mm\/s\)$/],
    ["half of it in each of two passes", { passes: 2 }, 17, /^17 % at 300 mm\/s in each of 2 passes/],
    ["two thirds of it at 200 mm/s", { speedMmPerS: 200 }, 34 / 1.5, /^23 % at 200 mm\/s/],
    ["six tenths of it for a shade", { dose: 0.6 }, 20.4, /^20 % at/],
    ["little, with a digit after the point", { dose: 0.2 }, 6.8, /^6\.8 % at/],
    ["what it was found with, whatever the reference", { material: measured }, 34, /^34 % at/],
  ])("is percent of the machine's, if the setting is known: %s", (_, changes, percent, words) => {
    const { message, testLinesPerInch, ...figures } = power({ fullTone: found, ...changes });
    expect(figures.percent).toBeCloseTo(percent, 9);
    expect(figures.found).toMatchObject({ percent: 40, speedMmPerS: 300 });
    expect(testLinesPerInch).toBeUndefined();
    expect(message).toMatch(words);
  });

  it("names a lower speed or more passes beyond 100 %, and neither at 100 %", () => {
    const strong = { percent: 100, pitchMm: 0.034, speedMmPerS: 300 };
    // 100 % · 0.085 / 0.034 = 250 %: 300 mm/s / 2.5 = 120 mm/s, or 3 passes of 83 %.
    const { message, ...figures } = power({ fullTone: strong });
    expect(figures.percent).toBeCloseTo(250, 9);
    expect(figures.fullPowerSpeedMmPerS).toBeCloseTo(120, 9);
    expect(figures.enoughPasses).toEqual({ passes: 3, percent: expect.closeTo(250 / 3, 9) });
    expect(message).toMatch(/^more than the machine has: 250 %/);
    const just = power({ fullTone: { ...strong, pitchMm: 0.085 } });
    expect(just.percent).toBeCloseTo(100, 9);
    expect(just.fullPowerSpeedMmPerS).toBeUndefined();
    // 20 passes of lines that do not add at all give 20^(1/4) = 2.1 times the dose.
    const stubborn = resolveMaterial({ ...file, lineExponent: 4 });
    expect(power({ fullTone: strong, material: stubborn }).enoughPasses).toBeUndefined();
  });

  it("does not name a speed that nobody gave, unless the setting has one of its own", () => {
    const assumed = ["speedMmPerS"];
    expect(power({ fullTone: found, assumed }).message).toMatch(
      /^34 % at the speed of your full-tone setting/,
    );
    expect(power({ fullTone: found, assumed }).message).not.toContain("mm/s");
    const named = { ...found, isSpeedNamed: true } as const;
    expect(power({ fullTone: named, assumed }).message).toMatch(/^34 % at 300 mm\/s \(.* and 300 mm\/s\)$/);
    const slow = { ...named, speedMmPerS: 150 };
    expect(power({ fullTone: slow, assumed }).message).toMatch(/^68 % at 300 mm\/s .*and 150 mm\/s/);
  });
});
