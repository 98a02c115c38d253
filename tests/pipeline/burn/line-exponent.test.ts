import { describe, expect, it } from "vitest";
import type { PrepareOptions } from "../../../src/index.js";
import { prepare, reportOf } from "../../support/prepare.js";

/**
 * Lines that do not add: 1016 per inch (pitch 0.025 mm) of a 0.1 mm spot give a solid fill a dose of 0.53, far below 1. The surface
 * changes most beyond it.
 */
const asked: PrepareOptions = {
  ...{ widthMm: 3, linesPerInch: 1016, spotMm: 0.1 },
  material: {
    ...{ name: "test surface", bareColor: "#202020", markedColor: "#c0c0c0", source: "made up" },
    response: [
      [0, 0.05],
      [0.5, 0.05],
      [0.8, 0.6],
      [1, 0.6],
    ],
    lineExponent: 2,
  },
};

const drawing = Buffer.from(
  `<svg xmlns="http://www.w3.org/2000/svg" width="3mm" height="2mm" viewBox="0 0 3 2"><rect width="3" height="2"/><rect x="1" y="0.5" width="1" height="1" fill="#fff"/></svg>`,
);

/** A surface that a fill of 0.53 does not mark at all. */
const unmarked: PrepareOptions["material"] = {
  ...(asked.material as object),
  response: [
    [0, 0.05],
    [0.7, 0.05],
    [0.8, 0.6],
    [1, 0.6],
  ],
} as PrepareOptions["material"];

/**
 * Dose where the surface is half marked, by the definition: the fill's own dose is √Σ(peak·exp(−8 (k s)²))² with s = 0.25 and peak
 * √(8/π)·s. Half of its change of luminance lies between dose 0.5 and that.
 */
const solidDose = Math.sqrt(
  Array.from(
    { length: 41 },
    (_, k) => (Math.sqrt(8 / Math.PI) * 0.25 * Math.exp(-8 * ((k - 20) * 0.25) ** 2)) ** 2,
  ).reduce((sum, squared) => sum + squared),
);

describe("a material whose lines do not add", () => {
  it("gives a border of the wanted width", async () => {
    const report = await reportOf(drawing, { ...asked, kind: "photo", borderMm: 0.4 });
    const { uprightMarkMm = 0, levelMarkMm = 0, levelPx = 0 } = report.job.border ?? {};
    expect(uprightMarkMm).toBeCloseTo(0.4, 1);
    expect(levelMarkMm).toBeCloseTo(0.4, 1);
    // Lines laid down one by one: the mark ends between the places of dose 0.5 and of the fill's dose less a hundredth.
    const widthAbove = (limit: number): number => {
      let marked = 0;
      for (let mm = -1; mm <= 1; mm += 0.0005) {
        let squared = 0;
        for (let k = 0; k < levelPx; k++) {
          const offMm = mm - (k - (levelPx - 1) / 2) * 0.025;
          squared += (Math.sqrt(8 / Math.PI) * 0.25 * Math.exp(-8 * (offMm / 0.1) ** 2)) ** 2;
        }
        if (Math.sqrt(squared) > limit) marked += 0.0005;
      }
      return marked;
    };
    expect(levelMarkMm).toBeLessThan(widthAbove(0.5));
    expect(levelMarkMm).toBeGreaterThan(widthAbove(solidDose - 0.001));
  });

  it("gives solid work with its edges near where they are drawn", async () => {
    const report = await reportOf(drawing, { ...asked, kind: "solid" });
    const burnedMm2 = report.coverage.burnFraction * 6;
    // Marks end inside the outermost lines, because a single line reaches 0.4 and marks nothing: more than 1 mm² burns.
    expect(burnedMm2).toBeGreaterThan(1);
    expect(burnedMm2).toBeLessThan(1.2);
  });

  it("reports the dose of its lines, and no dose beyond the table", async () => {
    const report = await reportOf(drawing, { ...asked, kind: "photo" });
    expect(report.coverage.peakDose).toBeCloseTo(solidDose, 6);
    expect(report.warnings.map(({ code }) => code)).not.toContain("response-extrapolated");
  });

  it("gives a border its nominal width if a fill leaves no mark", async () => {
    const report = await reportOf(drawing, { ...asked, kind: "photo", borderMm: 0.4, material: unmarked });
    expect(report.job.border).toMatchObject({ uprightPx: 16, levelPx: 16, levelMarkMm: 0 });
  });

  it("refuses solid work if a fill leaves no mark", async () => {
    await expect(prepare(drawing, { ...asked, kind: "solid", material: unmarked })).rejects.toMatchObject({
      code: "OPTION_CONFLICT",
      option: "material",
    });
  });
});
