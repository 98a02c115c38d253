import { describe, expect, it } from "vitest";
import { findHalftoneMethod } from "../../src/4-halftone/halftone.js";
import { predictBitmap } from "../../src/5-burn/predict.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import type { ResponsePoints } from "../../src/core/material/response.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../src/core/physics/lightness.js";
import { resolveOptions } from "../../src/options/options.js";
import { createJob, halftoneFunction } from "../../src/pipeline/job.js";
import type { Table } from "../../src/pipeline/kept-tables.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../support/materials.js";
import { prepare, reportOf } from "../support/prepare.js";
import { middleOf } from "./photograph.js";

const materialOf = (name: string, response: ResponsePoints) => ({
  name,
  response,
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "made up for the test",
});
const materials = [
  ["gradual", gradualPoints],
  ["steep", steepPoints],
] as const;
const spotMm = 0.115;

/*
 * Down a ladder of densities, 31 tints between bare and solid, evenly spaced in L*, without a tone curve: none stays bare or
 * turns solid, and the exposure stage finds each at its requested place.
 */
describe.each([...materials, ["lightening", lighteningPoints] as const])("tints, %s", (name, points) => {
  const memory = createKernelMemory();
  const method = findHalftoneMethod("dose-feedback");
  // Where lines stand apart, half of a sample's spacing matters to the last gaps of a dark tint; at 441, overdrive 2, samples
  // are furthest apart for the spot. A tone curve sees to both.
  it.each([
    [127, 1.7, 0.7],
    [254, 0.5, 0.15],
    [441, 0.9, 0.4],
    [508, 0.5, 0.15],
    [1016, 0.25, 0.06],
    [1200, 0.25, 0.06],
  ])("at %i lines per inch lie within %f L*, on average within %f", (linesPerInch, each, onAverage) => {
    const options = resolveOptions({ linesPerInch, spotMm, material: materialOf(name, points) });
    const job = createJob(options, memory);
    const { bare, solid, plan, response } = job.model;
    const halftone = halftoneFunction(method, job);
    const [side, margin] = [96, 20];
    const [from, to] = [lightnessFromLuminance(bare), lightnessFromLuminance(solid)];
    let sum = 0;
    for (let k = 1; k < 32; k++) {
      const wanted = from + ((to - from) * k) / 32;
      const area = (bare - luminanceFromLightness(wanted)) / (bare - solid);
      const fractions = new Int16Array(side * side).fill(Math.round(area * FRACTION_ONE));
      const bitmap = halftone(fractions, side, side);
      const inside = unpackBitmap(bitmap).filter((_, i) => isInside(i));
      expect(new Set(inside).size, `tint ${k}`).toBe(2);
      const luminance = predictBitmap({ plan, response, memory }, bitmap, [1])[0].filter((_, i) =>
        isInside(i),
      );
      const mean = luminance.reduce((all, value) => all + value, 0) / luminance.length;
      const difference = lightnessFromLuminance(mean) - wanted;
      expect(Math.abs(difference), `tint ${k}`).toBeLessThan(each);
      sum += difference / 31;
    }
    expect(Math.abs(sum)).toBeLessThan(onAverage);

    function isInside(i: number): boolean {
      const [x, y] = [i % side, Math.floor(i / side)];
      return Math.min(x, y) >= margin && Math.max(x, y) < side - margin;
    }
  });
});

describe.each(materials)("photographs, %s", (name, points) => {
  const stored = new Map<string, Table>();
  const curves = {
    get: (key: string) => stored.get(key),
    set: (key: string, curve: Table) => void stored.set(key, curve),
  };
  const side = 224;
  async function errorsOf(photo: string, linesPerInch: number, method: string, compensate = true) {
    const report = await reportOf(
      await middleOf(photo, side),
      {
        method,
        linesPerInch,
        widthMm: (side * 25.4) / linesPerInch,
        spotMm,
        material: materialOf(name, points),
        autoTone: false,
        compensate,
      },
      { curves },
    );
    if (!report.prediction) throw new Error("no prediction");
    return { ...report.prediction, compensated: report.job.compensated };
  }

  it.each([name === "steep" ? [508, "airplane-from-above"] : [1016, "allium-oreophilum"]] as const)(
    "at %i lines per inch, %s: no further off than compensated Floyd–Steinberg",
    async (linesPerInch, photo) => {
      const ours = await errorsOf(photo, linesPerInch, "dose-feedback");
      const theirs = await errorsOf(photo, linesPerInch, "floyd-steinberg");
      expect(ours.visualErrorRms).toBeLessThanOrEqual(theirs.visualErrorRms);
      expect(ours.expectedVisualError).toBeLessThanOrEqual(theirs.expectedVisualError);
      // It needs no tone curve for that.
      const alone = await errorsOf(photo, linesPerInch, "dose-feedback", false);
      expect(alone.compensated).toBe(true);
      expect(alone.visualErrorRms).toBeLessThanOrEqual(theirs.visualErrorRms);
    },
  );

  it("a tone curve takes off what is left where lines stand apart", async () => {
    const { visualErrorBias } = await errorsOf("allium-oreophilum", 127, "dose-feedback");
    expect(Math.abs(visualErrorBias)).toBeLessThan(0.15);
  });
});

it("refuses round pieces", async () => {
  const photo = await middleOf("allium-oreophilum", 64);
  const options = { method: "dose-feedback", aroundMm: 60, heightMm: 20 };
  await expect(prepare(photo, options)).rejects.toMatchObject({ code: "OPTION_METHOD_GRID" });
});

it("refuses a spot too many pixels wide to go through for each of them", async () => {
  const photo = await middleOf("allium-oreophilum", 16);
  const options = { method: "dose-feedback", spotMm: 0.3, linesPerInch: 1200, widthMm: 1 };
  await expect(prepare(photo, options)).rejects.toMatchObject({
    code: "OPTION_METHOD_GRID",
    message: expect.stringContaining("14.2"),
  });
});
