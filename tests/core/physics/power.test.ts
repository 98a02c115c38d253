import { describe, expect, it } from "vitest";
import { meanArealDoseJPerMm2 } from "../../../src/core/physics/line-dose.js";
import { doseOfPasses, powerPercentFor } from "../../../src/core/physics/power.js";

const found = { percent: 40, pitchMm: 0.1, speedMmPerS: 300 };
const fill = { dose: 1, pitchMm: 0.1, speedMmPerS: 300, passes: 1 };

describe("percent of power for a fill", () => {
  it.each([
    ["the setting itself", {}, 40],
    ["half the pitch: half the power for each line", { pitchMm: 0.05 }, 20],
    ["twice the speed", { speedMmPerS: 600 }, 80],
    ["half the dose", { dose: 0.5 }, 20],
    ["two passes", { passes: 2 }, 20],
    // Section 14 of the model: each of four passes needs 1/4^(1/2) of the power, not a fourth.
    ["four passes of lines that do not add", { passes: 4, lineExponent: 2 }, 20],
    ["all of it", { pitchMm: 0.05, speedMmPerS: 600, dose: 1.5, passes: 3 }, 20],
  ])("%s", (_, changes, percent) => {
    expect(powerPercentFor(found, { ...fill, ...changes })).toBeCloseTo(percent, 12);
  });

  it("gives each fill the energy per area of the setting", () => {
    const energy = meanArealDoseJPerMm2(40, 300, 0.1);
    for (const pitchMm of [0.03, 0.07, 0.2]) {
      for (const passes of [1, 2, 5]) {
        const percent = powerPercentFor(found, { ...fill, pitchMm, speedMmPerS: 170, passes });
        expect(passes * meanArealDoseJPerMm2(percent, 170, pitchMm)).toBeCloseTo(energy, 12);
      }
    }
  });
});

it("doses of passes add up, unless lines that come later do not", () => {
  expect([1, 2, 5].map((passes) => doseOfPasses(passes))).toEqual([1, 2, 5]);
  expect(doseOfPasses(9, 2)).toBe(3);
});
