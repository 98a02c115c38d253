import { describe, expect, it } from "vitest";
import { resolveMaterial } from "../../src/core/material/material.js";
import { type PrepareOptions, resolveOptions } from "../../src/options/options.js";
import { parseFullTone } from "../../src/options/quantities.js";
import { gradualPoints } from "../support/materials.js";
import { refusalOf } from "../support/refusal.js";

const wood = {
  ...{ name: "net float", bareColor: "#e3c9a0", markedColor: "#3a2415", source: "measured" },
  response: gradualPoints.map((point) => [...point]),
};
const referred = { ...wood, referencePitchMm: 0.05 };
const resolved = (options: PrepareOptions) =>
  resolveOptions({ material: wood, linesPerInch: 254, speedMmPerS: 200, ...options }).fullTone;

describe("a full-tone setting", () => {
  it("holds where it was found", () => {
    const powerPercent = { percent: 40, linesPerInch: 508, speedMmPerS: 100 };
    const fullTone = { percent: 40, pitchMm: expect.closeTo(0.05, 12), speedMmPerS: 100, isSpeedNamed: true };
    expect(resolved({ powerPercent })).toEqual(fullTone);
    expect(resolved({ powerPercent, material: { ...wood, referencePitchMm: 0.2 } })).toEqual(fullTone);
  });

  it("holds for the reference density of the material, else for the job's, and at the job's speed", () => {
    expect(resolveMaterial(referred).referencePitchMm).toBe(0.05);
    expect(resolved({ powerPercent: 40, material: referred })).toEqual({
      percent: 40,
      pitchMm: 0.05,
      speedMmPerS: 200,
    });
    expect(resolved({ powerPercent: 40 })?.pitchMm).toBeCloseTo(0.1, 12);
    expect(resolved({})).toBeUndefined();
  });

  it("needs a density: a default one is not where the user found it", () => {
    const unplaced = { material: wood, powerPercent: 40, linesPerInch: undefined };
    const { code, option, message } = refusalOf(() => resolveOptions(unplaced));
    expect([code, option]).toEqual(["OPTION_CONFLICT", "powerPercent"]);
    expect(message).toMatch(/net float names no reference density, and linesPerInch is not given/);
    expect(resolveOptions({ ...unplaced, material: referred }).fullTone?.pitchMm).toBe(0.05);
    expect(resolveOptions({ ...unplaced, powerPercent: undefined }).fullTone).toBeUndefined();
  });
});

describe("its text", () => {
  it.each([
    ["40%", 40],
    [" 12.5 ", 12.5],
    ["40%@254", { percent: 40, linesPerInch: 254 }],
    ["40 @ 0.1mm", { percent: 40, linesPerInch: 254 }],
    ["7%@254lpi@6000mm/s", { percent: 7, linesPerInch: 254, speedMmPerS: 6000 }],
    ["7%@254@90", { percent: 7, linesPerInch: 254, speedMmPerS: 90 }],
  ])("%s", (text, value) => {
    const read = parseFullTone("powerPercent", text);
    expect(read).toEqual(
      typeof value === "number" ? value : { ...value, linesPerInch: expect.closeTo(254, 9) },
    );
  });

  it.each(["full", "", "40%@", "40%@254@", "40%@254@fast", "40%@254@300@1", "@254", "40 W"])(
    "is not %j",
    (text) => {
      expect(refusalOf(() => parseFullTone("powerPercent", text))).toMatchObject({
        code: "OPTION_INVALID",
        option: "powerPercent",
      });
    },
  );

  it.each([0, -1, 101, { percent: 0 }, { percent: 40, linesPerInch: 0 }, { percent: 40, watt: 3 }])(
    "nor is its value %j",
    (powerPercent) => {
      expect(refusalOf(() => resolveOptions({ powerPercent } as PrepareOptions))).toMatchObject({
        code: "OPTION_INVALID",
        option: "powerPercent",
      });
    },
  );
});
