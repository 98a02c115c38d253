import { describe, expect, it } from "vitest";
import { planColumns } from "../../../src/6-report/words/plan-columns.js";
import { libraryReader } from "../../../src/core/reader.js";
import { METRIC } from "../../../src/core/shown-units.js";
import type { Plan, PlanOptions, PlanRow } from "../../../src/index.js";
import { gradualPoints, steepPoints } from "../../support/materials.js";
import { plan } from "../../support/prepare.js";

const wood = {
  ...{ name: "net float", bareColor: "#e3c9a0", markedColor: "#3a2415", source: "measured" },
  response: gradualPoints.map((point) => [...point]),
};
const coat = { ...wood, name: "varnish", response: steepPoints.map((point) => [...point]) };
const referred = { ...wood, referencePitchMm: 0.05 };
const size = { widthMm: 8, heightMm: 8, spotMm: 0.1, speedMmPerS: 200 };
const photo: PlanOptions = { ...size, material: wood, densities: [200], method: "bayer-8" };
const shade: PlanOptions = { ...size, kind: "shade", material: wood, densities: [508], darkness: 0.5 };
const strip: PlanOptions = { ...size, kind: "strip", material: coat };
const powerPercent = { percent: 40, linesPerInch: 254 };

const planned = (options: PlanOptions) => plan(options, undefined, { threads: 1 });
const chosen = ({ rows, recommended }: Plan): PlanRow => rows[recommended.row];

describe("the power of a plan's choice", () => {
  it("is to be found, at the density of a photo and at the matched one of a shade or a coating", async () => {
    const [ofPhoto, ofShade, ofStrip] = await Promise.all([photo, shade, strip].map(planned));
    expect(ofPhoto.power.testLinesPerInch).toBeCloseTo(200, 6);
    // Spots of 0.1 mm just touch at 25.4 / 0.1 lines per inch.
    for (const { power } of [ofShade, ofStrip]) expect(power.testLinesPerInch).toBeCloseTo(254, 6);
    expect(ofShade.power.factor).toBeCloseTo(chosen(ofShade).shade?.powerFactor ?? 0, 12);
    expect(ofStrip.power.factor).toBeCloseTo(1, 12);
    expect(ofStrip.power.message).toMatch(/^the power that gives full tone at 254 lines per inch/);
  });

  it("is percent of full tone by pitch for a photo, and by pitch and dose for a shade", async () => {
    const [ofPhoto, ofShade] = await Promise.all(
      [photo, shade].map((job) => planned({ ...job, powerPercent })),
    );
    expect(ofPhoto.power.percent).toBeCloseTo((40 * 254) / 200, 6);
    const { dose = 0, powerPercent: inRow } = chosen(ofShade).shade ?? {};
    expect(dose).toBeGreaterThan(0.1);
    expect(ofShade.power.percent).toBeCloseTo((40 * dose * 254) / 508, 6);
    expect(inRow).toBeCloseTo(ofShade.power.percent ?? 0, 9);
    expect(ofShade.recommended.reason).toContain(`Set ${Number((20 * dose).toPrecision(2))} % at 200 mm/s`);
    const heads = planColumns(ofShade).map(({ head }) => head.join(" "));
    expect(heads).toContain("power %");
    expect(heads).not.toContain("power factor");
  });

  it("of a shade names the other speed in the user's unit, in the table as in the reason", async () => {
    const made = await plan(shade, undefined, {
      reader: { ...libraryReader, units: { ...METRIC, speed: "in/s" } },
    });
    const column = planColumns(made).find(({ head: [name] }) => name === "or speed");
    expect(column?.head[1]).toBe("in/s");
    const shown = Number(column?.cell(chosen(made)));
    // An inch is 25.4 mm; figures from 10 up have one digit after the point, others three in all.
    expect(shown / ((chosen(made).shade?.speedMmPerS ?? 0) / 25.4)).toBeCloseTo(1, 2);
    expect(made.recommended.reason).toContain(`or that power at ${shown} in/s`);
  });

  it("is that of the reference density for a coating, whatever density is chosen", async () => {
    const made = await planned({ ...strip, powerPercent: { percent: 30, linesPerInch: 508 } });
    expect(made.power.percent).toBeCloseTo((30 * 508) / 254, 6);
    const measured = await planned({ ...strip, powerPercent, markMm: 0.12 });
    expect(measured.power).not.toHaveProperty("percent");
    expect(measured.power.message).toMatch(/at which you measured the width/);
  });

  it("is shared by passes, which take as long as one each", async () => {
    const [once, thrice] = await Promise.all(
      [1, 3].map((passes) => planned({ ...shade, powerPercent, passes })),
    );
    expect(thrice.power.percent).toBeCloseTo((once.power.percent ?? 0) / 3, 9);
    expect(chosen(thrice).seconds).toBeCloseTo(3 * chosen(once).seconds, 9);
    expect(chosen(thrice).shade?.powerFactor).toBeCloseTo((chosen(once).shade?.powerFactor ?? 0) / 3, 9);
    // The same dose by speed: three times the speed in each of three passes.
    expect(chosen(thrice).shade?.speedMmPerS).toBeCloseTo(3 * (chosen(once).shade?.speedMmPerS ?? 0), 6);
    expect(chosen(thrice).shade?.dose).toBe(chosen(once).shade?.dose);
  });

  it("needs the density of the setting, unless the material has a reference", async () => {
    await expect(planned({ ...shade, powerPercent: 40 })).rejects.toMatchObject({
      code: "OPTION_CONFLICT",
      option: "powerPercent",
    });
    await expect(planned({ ...shade, powerPercent: { percent: 40 } })).rejects.toMatchObject({
      option: "powerPercent",
    });
    const { power } = await planned({ ...shade, material: referred, powerPercent: 40 });
    expect(power.found?.linesPerInch).toBeCloseTo(508, 9);
  });
});
