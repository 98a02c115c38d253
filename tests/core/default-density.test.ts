import { describe, expect, it } from "vitest";
import { defaultLinesPerInch } from "../../src/core/default-density.js";
import { findMaterial } from "../../src/core/material/material.js";
import { materialPresets } from "../../src/core/material/material-presets.js";
import { solidPeakDose } from "../../src/core/physics/line-dose.js";

const slate = { toneRange: 0.546 };

describe("the default density", () => {
  it("is that of the table where the table has an entry: overdrive × 25.4 mm / spot", () => {
    expect(defaultLinesPerInch(0.115, slate)).toBe(Math.round((1.27 * 25.4) / 0.115));
    expect(defaultLinesPerInch(0.2, { toneRange: 1.91 })).toBe(Math.round((2.98 * 25.4) / 0.2));
    expect(defaultLinesPerInch(0.05, { toneRange: 0.941 })).toBe(Math.round((1.24 * 25.4) / 0.05));
  });

  it("lies half-way between two entries at the middle of their logarithms", () => {
    expect(defaultLinesPerInch(Math.sqrt(0.2 * 0.3), slate)).toBe(
      Math.round((((1.77 + 2.27) / 2) * 25.4) / Math.sqrt(0.06)),
    );
    expect(defaultLinesPerInch(0.1, { toneRange: Math.sqrt(0.546 * 0.941) })).toBe(
      Math.round((((1.2 + 1.31) / 2) * 25.4) / 0.1),
    );
  });

  it("keeps the overdrive of the nearest entry beyond the table, within what may be asked for", () => {
    expect(defaultLinesPerInch(0.025, slate)).toBe(2 * defaultLinesPerInch(0.05, slate));
    expect(defaultLinesPerInch(0.115, { toneRange: 9 })).toBe(Math.round((2.48 * 25.4) / 0.115));
    expect(defaultLinesPerInch(0.115, { toneRange: 0.01 })).toBe(defaultLinesPerInch(0.115, slate));
    expect(defaultLinesPerInch(0.001, slate)).toBe(5080);
    expect(defaultLinesPerInch(9, slate)).toBe(20);
  });

  it("never leaps: a hundredth of a spot or of a tone range moves it by no more than two hundredths", () => {
    for (let spotMm = 0.03; spotMm < 0.5; spotMm *= 1.01) {
      for (let toneRange = 0.4; toneRange < 2.5; toneRange *= 1.05) {
        const here = defaultLinesPerInch(spotMm, { toneRange });
        expect(Math.abs(defaultLinesPerInch(1.01 * spotMm, { toneRange }) / here - 1)).toBeLessThan(0.03);
        expect(
          Math.abs(defaultLinesPerInch(spotMm, { toneRange: 1.01 * toneRange }) / here - 1),
        ).toBeLessThan(0.02);
      }
    }
  });

  // The sum of Gaussians, exact, not its first harmonic.
  it.each([0.05, 0.08, 0.115, 0.2])(
    "leaves no line centre charred on any preset, with a spot of %d mm",
    (spotMm) => {
      for (const { id } of materialPresets) {
        const material = findMaterial(id);
        if (material.charDose === undefined) continue;
        const pitchMm = 25.4 / defaultLinesPerInch(spotMm, material);
        expect(solidPeakDose(pitchMm / spotMm, 1), id).toBeLessThan(material.charDose);
      }
    },
  );

  it("does without a margin where a material chars at once, or never", () => {
    for (const charDose of [0.9, 1, 3, 50]) {
      expect(defaultLinesPerInch(0.115, { ...slate, charDose })).toBe(defaultLinesPerInch(0.115, slate));
    }
    expect(defaultLinesPerInch(0.115, { ...slate, charDose: 1.05 })).toBeGreaterThan(
      defaultLinesPerInch(0.115, slate),
    );
  });
});
