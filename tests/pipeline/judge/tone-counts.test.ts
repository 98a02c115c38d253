import { describe, expect, it } from "vitest";
import { findHalftoneMethod } from "../../../src/4-halftone/halftone.js";
import { burnFlatPatch } from "../../../src/5-burn/flat-patch.js";
import { patchLightness } from "../../../src/5-burn/tonal-resolution.js";
import { createKernelMemory } from "../../../src/core/kernel-memory.js";
import { type PrepareOptions, resolveOptions } from "../../../src/options/options.js";
import { createJob, halftoneFunction, type Job } from "../../../src/pipeline/job.js";
import { fractionFor, toneCounts } from "../../../src/pipeline/judge/tone-counts.js";
import { ruleOf } from "../../../src/stages/compensate.js";
import { meanOver } from "../../5-burn/burning.js";
import { directApertureMeans, everyPlace } from "../../5-burn/direct-apertures.js";
import { countDirectly, DETAIL_SIDES_MM, lightness, variance } from "../../5-burn/direct-tones.js";

const memory = createKernelMemory();
const commonOnly = { local: 0, line: 0 };

async function counted(options: PrepareOptions, method: string) {
  const job = createJob(resolveOptions({ ...options, method }), memory);
  const rule = ruleOf(job, { method });
  return { job, rule, tones: await toneCounts(job, findHalftoneMethod(method), rule) };
}

/** Patches of 6 mm at one dose, seen through apertures on every pixel. */
function tonesInAllPhases(job: Job, method: string, fractions: Float64Array, dose: number): number[] {
  const { model, options } = job;
  const halftone = halftoneFunction(findHalftoneMethod(method), job);
  const side = Math.ceil(6 / options.pitch.alongMm);
  const size = { columns: side, rows: side, marginPx: 24 };
  const tints = Array.from(fractions, (fraction) => {
    const { planes } = burnFlatPatch({ ...model, memory }, halftone, fraction, size, [dose]);
    const grains = DETAIL_SIDES_MM.map((sideMm) => {
      const aperture = sideMm / options.pitch.alongMm;
      const places = everyPlace(side, side, aperture, aperture);
      const seen = directApertureMeans(planes[0], side, aperture, aperture, places);
      return Math.sqrt(variance(seen.map(lightness)));
    });
    return { lightness: lightness(meanOver(planes[0])), slope: 0, grains };
  });
  return DETAIL_SIDES_MM.map((_, k) => countDirectly(tints, k, 0));
}

describe("tones", () => {
  // A screen whose period and the aperture's side have a simple ratio: apertures side by side see it in few phases.
  it("of a screen on coated steel at 406 lines per inch are those of apertures in all phases", async () => {
    const method = "clustered-dot";
    const options = { ...{ material: "coated-steel", linesPerInch: 406, spotMm: 0.125 }, spread: commonOnly };
    const { job, rule, tones } = await counted(options, method);
    const fractions = patchLightness().map((l) => fractionFor(l, job.model, rule.burnFor));
    const direct = tonesInAllPhases(job, method, fractions, 1);
    tones.forEach(({ nominal, detailMm }, k) => {
      expect(Math.abs(nominal / direct[k] - 1), `${detailMm} mm`).toBeLessThan(0.02);
    });
  });

  it("on maple at 442 lines per inch are held by all doses of a piece: 1 mm carries as many at any of them", async () => {
    const method = "floyd-steinberg";
    const options = { material: "maple", linesPerInch: 442, doseSpread: 0.1, spread: commonOnly };
    const { job, rule, tones } = await counted(options, method);
    const fractions = patchLightness().map((l) => fractionFor(l, job.model, rule.burnFor));
    const atDoses = [1, 0.9, 1.1].map((dose) => tonesInAllPhases(job, method, fractions, dose)[3]);
    const { nominal, held } = tones[3];
    expect(Math.abs(nominal / atDoses[0] - 1)).toBeLessThan(0.01);
    for (const atDose of atDoses) expect(Math.abs(atDose / atDoses[0] - 1)).toBeLessThan(0.05);
    // A deviation of 8.2 % lies within ±10 %.
    expect(held).toBeLessThanOrEqual(nominal);
    expect(held).toBeGreaterThan(0.99 * Math.min(...atDoses));
  });

  it("are never more than the nominal ones, and fewer with every part but the spot's", async () => {
    const heldWith = async (spread: PrepareOptions["spread"]) => {
      const { tones } = await counted({ material: "maple", linesPerInch: 300, spread }, "green-noise");
      for (const { held, nominal } of tones) expect(held).toBeLessThanOrEqual(nominal);
      return tones.map(({ held }) => held);
    };
    const steady = { common: 0, local: 0, line: 0 };
    const none = await heldWith({ ...steady, spot: 0 });
    expect(await heldWith({ ...steady, spot: 0.1 })).toEqual(none);
    for (const part of [{ common: 0.1 }, { local: 0.05 }, { line: 0.1 }]) {
      const held = await heldWith({ ...steady, ...part });
      held.forEach((tones, k) => {
        expect(tones, `${Object.keys(part)[0]} at ${DETAIL_SIDES_MM[k]} mm`).toBeLessThan(none[k]);
      });
    }
  });
});
