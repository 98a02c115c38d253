import { describe, expect, it } from "vitest";
import { nearestOffered } from "../../src/core/default-density.js";
import { resolveMachine } from "../../src/index.js";
import { machineFigures } from "../../src/options/machine.js";
import { resolveOptions } from "../../src/options/options.js";
import { checkPlanOptions } from "../../src/options/plan-options.js";
import { refusalOf } from "../support/refusal.js";

/** Every key of a machine file (design of the calibration). */
const whole = {
  name: "the small one by the window",
  spotMm: { alongMm: 0.1, acrossMm: 0.12 },
  spread: { common: 0.08, local: 0.04, localLengthMm: 2, line: 0.04, spot: 0.05 },
  firingLagUs: 20,
  firingLossUs: -5,
  lineShiftMm: 0.03,
  oneWay: false,
  speedMmPerS: 250,
  accelerationMmPerS2: 4000,
  linesPerInchOffered: [150, 254, 300, 508],
  source: "measured 2026-05-01",
};

describe("a machine file", () => {
  it("holds options of every command", () => {
    const { name, source, options } = resolveMachine(whole);
    expect({ name, source, ...options }).toEqual(whole);
    expect(Object.keys(options).sort()).toEqual([...machineFigures].sort());
    const resolved = resolveOptions({ ...options, material: "maple" });
    expect(resolved).toMatchObject({
      spot: whole.spotMm,
      spread: whole.spread,
      motion: { firingLagUs: 20, firingLossUs: -5, lineShiftMm: 0.03, speedMmPerS: 250, oneWay: false },
      accelerationMmPerS2: 4000,
      assumed: [],
    });
    expect(checkPlanOptions(options).densities).toEqual([150, 254, 300, 508]);
    expect(checkPlanOptions({ ...options, densities: [254] }).densities).toEqual([254]);
  });

  it("needs a name alone, and leaves what it does not say to the defaults", () => {
    expect(resolveMachine({ name: "ours" }).options).toEqual({});
    expect(resolveOptions(resolveMachine({ name: "ours", spotMm: 0.15 }).options).assumed).toEqual([
      "speedMmPerS",
      "accelerationMmPerS2",
    ]);
  });

  it.each<[unknown, RegExp]>([
    ["ours", /must be one object/],
    [[], /must be one object/],
    [{ spotMm: 0.1 }, /name is missing/],
    [{ name: "" }, /name takes a name; it is ''/],
    [{ name: "ours", spot: 0.1 }, /no field "spot"; the fields are name, source, spotMm/],
    [
      { name: "ours", spotMm: -1 },
      /spotMm takes 0\.005 to 5 mm: one diameter, or one along and one across; it is -1/,
    ],
    [{ name: "ours", spotMm: "0.1" }, /spotMm takes .*; it is '0\.1'/],
    [{ name: "ours", spread: { line: 3 } }, /spread takes .*; it is \{ line: 3 \}/],
    [{ name: "ours", linesPerInchOffered: [] }, /linesPerInchOffered takes a list/],
    [{ name: "ours", oneWay: "yes" }, /oneWay takes true or false; it is 'yes'/],
  ])("is refused in one sentence: %j", (data, words) => {
    const { code, message } = refusalOf(() => resolveMachine(data));
    expect(code).toBe("INPUT_MACHINE_INVALID");
    expect(message).toMatch(/^The machine file cannot be used: .*\.$/);
    expect(message).toMatch(words);
  });
});

describe("densities that a machine offers", () => {
  it("give the default density, by the smallest ratio", () => {
    expect(nearestOffered(402)).toBe(402);
    // 402 / 300 = 1.34, 508 / 402 = 1.26.
    expect(nearestOffered(402, [150, 300, 508])).toBe(508);
    expect(nearestOffered(402, [508, 320])).toBe(320);
    const maple = { material: "maple", spotMm: 0.115 };
    const acrossMm = (more: object) => resolveOptions({ ...maple, ...more }).pitch.acrossMm;
    expect(acrossMm({ linesPerInchOffered: [150, 300, 508] })).toBeCloseTo(25.4 / 508, 9);
    expect(acrossMm({ linesPerInchOffered: [150, 300, 508], linesPerInch: 333 })).toBeCloseTo(25.4 / 333, 9);
  });
});
