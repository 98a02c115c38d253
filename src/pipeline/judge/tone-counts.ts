import type { HalftoneMethod } from "../../4-halftone/method.js";
import {
  type CountEffort,
  FULL_COUNT,
  patchLightness,
  type TonalResolution,
  tonalResolution,
} from "../../5-burn/tonal-resolution.js";
import { BRIGHTEST_CODE } from "../../core/luminance-codes.js";
import { luminanceFromLightness } from "../../core/physics/lightness.js";
import { lookUp, type Tabulated } from "../../core/tabulated.js";
import { halftoneDepends } from "../burn/burn-curve.js";
import type { BurnRule } from "../burn/burn-rule.js";
import type { BurnModel } from "../burn-model.js";
import { halftoneFunction, type Job } from "../job.js";
import { keptTable } from "../kept-tables.js";

const COLUMNS = ["detailMm", "addressable", "nominal", "held"] as const;

/** Tones that details of several sizes hold, through this job's own path from photo to burn fraction. */
export async function toneCounts(
  job: Job,
  method: HalftoneMethod,
  rule: BurnRule,
  effort: CountEffort = FULL_COUNT,
): Promise<TonalResolution[]> {
  const { toneMap, spread } = job.options;
  const depends = {
    tones: spread,
    effort,
    ...{ toneMap, curve: rule.curve && [...rule.curve.luminance], method: method.id },
    ...halftoneDepends(job.options),
  };
  const table = await keptTable(job.curves, depends, COLUMNS, () => {
    const counted = measureTones(job, method, rule, effort);
    const column = (name: (typeof COLUMNS)[number]) => Float64Array.from(counted, (tones) => tones[name]);
    return {
      detailMm: column("detailMm"),
      addressable: column("addressable"),
      nominal: column("nominal"),
      held: column("held"),
    };
  });
  return Array.from(table.detailMm, (detailMm, k) => ({
    detailMm,
    addressable: table.addressable[k],
    nominal: table.nominal[k],
    held: table.held[k],
  }));
}

function measureTones(
  job: Job,
  method: HalftoneMethod,
  { burnFor }: BurnRule,
  { tones: count, patchMm }: CountEffort,
): TonalResolution[] {
  const { memory, model, options } = job;
  const { plan, response } = model;
  const { pitch, spot, spread } = options;
  const fractions = patchLightness(count).map((lightness) => fractionFor(lightness, model, burnFor));
  const release = memory.mark();
  const halftone = halftoneFunction(method, job);
  const tones = tonalResolution(
    { plan, response, memory },
    halftone,
    fractions,
    { pitch, spot, patchMm },
    spread,
  );
  release();
  return tones;
}

/** The burn fraction for a lightness L* of the photo, 0..100. */
export function fractionFor(lightness: number, { wantedByCode }: BurnModel, burnFor: Tabulated): number {
  const code = Math.round(luminanceFromLightness(lightness) * BRIGHTEST_CODE);
  return lookUp(burnFor, wantedByCode[code]);
}
