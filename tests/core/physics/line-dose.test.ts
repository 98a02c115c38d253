import { describe, expect, it } from "vitest";
import * as dose from "../../../src/core/physics/line-dose.js";

/** Dose over its mean at y of lines one pitch apart, by adding up the lines; lengths in spot diameters. */
function summedLines(pitch: number, y: number): number {
  const reach = Math.ceil(4 / pitch) + 1;
  let sum = 0;
  for (let line = -reach; line <= reach; line++) {
    sum += dose.lineDoseAtOffset(dose.relativeLinePeakDose(pitch, 1), y - line * pitch, 1);
  }
  return sum;
}

describe("ripple", () => {
  it.each([0.2, 0.31, 0.5, 0.85, 1, 1.4, 2.3, 4.9, 5, 5.1, 9])(
    "extremes and modulation at pitch/d %f are those of the lines added up",
    (pitch) => {
      const { min, max } = dose.rippleExtremes(pitch);
      const onLine = summedLines(pitch, 0);
      const between = summedLines(pitch, pitch / 2);
      expect(max).toBeCloseTo(onLine, 12);
      expect(min).toBeCloseTo(between, 12);
      expect(dose.rippleModulation(pitch)).toBeCloseTo((onLine - between) / (onLine + between), 12);
    },
  );

  it.each([0.15, 0.2, 0.5, 1, 1.5, 5, 10])(
    "doses across a line at pitch/d %f are those of the lines added up, and average to the mean",
    (pitch) => {
      const doses = dose.rippleDoses(pitch);
      const places = doses.length;
      for (const i of [0, Math.floor(places / 3), places - 1]) {
        expect(doses[i]).toBeCloseTo(summedLines(pitch, ((i + 0.5) / places) * (pitch / 2)), 12);
      }
      expect(doses.reduce((sum, each) => sum + each, 0) / places).toBeCloseTo(1, 12);
    },
  );

  it.each([
    [0.25, 2],
    [0.5, 2],
    [0.25, 3.3],
    [1, 1.5],
    [1.4, 1.2],
    [0.7, 1],
  ])("of lines that do not add, pitch/d %f and exponent %f, is that of their powers added up", (pitch, q) => {
    const peak = dose.relativeLinePeakDose(pitch, 1);
    const at = (y: number): number =>
      Array.from({ length: 81 }, (_, k) => dose.lineDoseAtOffset(peak, y - (k - 40) * pitch, 1) ** q).reduce(
        (sum, power) => sum + power,
      ) **
      (1 / q);
    const [onLine, between] = [at(0), at(pitch / 2)];
    expect(dose.solidPeakDose(pitch, q)).toBeCloseTo(onLine, 10);
    expect(dose.solidDoseModulation(pitch, q)).toBeCloseTo((onLine - between) / (onLine + between), 10);
  });

  it("keeps its digits where the ripple is far below rounding of the dose", () => {
    const first = 2 * Math.exp(-(Math.PI ** 2) / (8 * 0.15 ** 2));
    expect(first).toBeLessThan(1e-20);
    expect(dose.rippleModulation(0.15) / first).toBeCloseTo(1, 12);
  });

  it("the largest pitch for a modulation is as exact as documented", () => {
    const exact = (modulation: number) => {
      let low = 0.1;
      let high = 5;
      for (let i = 0; i < 60; i++) {
        const middle = (low + high) / 2;
        if (dose.rippleModulation(middle) < modulation) low = middle;
        else high = middle;
      }
      return high;
    };
    const error = (modulation: number) =>
      Math.abs(dose.largestPitchOverDiameter(modulation) / exact(modulation) - 1);
    for (const modulation of [0.001, 0.02, 0.1, 0.15]) expect(error(modulation)).toBeLessThan(2e-5);
    for (const modulation of [0.2, 0.35, 0.5]) expect(error(modulation)).toBeLessThan(3e-3);
  });
});

describe("line dose", () => {
  it("the line's cross-section holds the energy per length, and a fill averages to the mean dose", () => {
    const [powerW, speedMmPerS, diameterMm, pitchMm] = [10, 400, 0.115, 0.08];
    const peak = dose.linePeakDoseJPerMm2(powerW, speedMmPerS, diameterMm);
    const stepMm = diameterMm / 1000;
    let energyJPerMm = 0;
    for (let i = -4000; i <= 4000; i++) {
      energyJPerMm += dose.lineDoseAtOffset(peak, i * stepMm, diameterMm) * stepMm;
    }
    expect(energyJPerMm).toBeCloseTo(powerW / speedMmPerS, 12);
    const mean = dose.meanArealDoseJPerMm2(powerW, speedMmPerS, pitchMm);
    expect(energyJPerMm / pitchMm).toBeCloseTo(mean, 12);
    expect(dose.relativeLinePeakDose(pitchMm, diameterMm)).toBeCloseTo(peak / mean, 12);
  });

  it("the dose at the edge of the mark is the threshold", () => {
    for (const ratio of [1.0001, 1.3, 4, 60]) {
      const edgeMm = dose.markedWidthMm(0.115, ratio) / 2;
      expect(dose.lineDoseAtOffset(ratio, edgeMm, 0.115)).toBeCloseTo(1, 12);
    }
  });

  it("a peak at or below the threshold marks nothing", () => {
    for (const ratio of [1, 0.5, 0]) expect(dose.markedWidthMm(0.115, ratio)).toBe(0);
  });
});

describe("fit of spot and threshold", () => {
  it("is the least-squares line when the marks scatter", () => {
    // By hand: ln doses −1, 0, 1 and squares 1, 2, 4 have slope 3/2, mean 7/3 and zero at −14/9.
    const { spotDiameterMm, threshold } = dose.fitSpotAndThreshold(
      [Math.exp(-1), 1, Math.E],
      [1, Math.SQRT2, 2],
    );
    expect(spotDiameterMm).toBeCloseTo(Math.sqrt(3), 12);
    expect(threshold).toBeCloseTo(Math.exp(-14 / 9), 12);
  });

  it("gives back the spot and threshold of an elliptical spot's narrow side", () => {
    const doses = [0.3, 0.5, 1.1, 2];
    const widths = doses.map((peak) => dose.markedWidthMm(0.08, peak / 0.21));
    const { spotDiameterMm, threshold } = dose.fitSpotAndThreshold(doses, widths);
    expect(spotDiameterMm).toBeCloseTo(0.08, 12);
    expect(threshold).toBeCloseTo(0.21, 12);
  });

  it("is NaN when the doses do not differ or the marks shrink", () => {
    expect(dose.fitSpotAndThreshold([2, 2], [0.1, 0.12]).spotDiameterMm).toBeNaN();
    expect(dose.fitSpotAndThreshold([1, 2], [0.12, 0.1]).threshold).toBeNaN();
  });
});
