import type { Frame } from "../../3-resample/frame.js";
import { planExposure } from "../../5-burn/exposure-plan.js";
import { type RunTime, RunTimer } from "../../5-burn/run-time.js";
import { solidLuminance } from "../../5-burn/solid-fill.js";
import type { ShadeSetting } from "../../6-report/plan.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import type { Material } from "../../core/material/material.js";
import { bytesPerPackedRow, packRow } from "../../core/packed-bits.js";
import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import { doseOfPasses, powerPercentFor } from "../../core/physics/power.js";
import type { ResolvedOptions } from "../../options/options.js";
import { referencePitchMm } from "../../pipeline/describe/density-facts.js";

/** Run time of a piece that burns everywhere, at the job's speed or another. */
export function solidRunTime(
  { columns, rows }: Frame,
  options: ResolvedOptions,
  speedMmPerS = options.speedMmPerS,
): RunTime {
  const line = new Uint8Array(bytesPerPackedRow(columns));
  packRow(new Uint8Array(columns).fill(1), 0, columns, line, 0);
  const timer = new RunTimer(columns, options.pitch.alongMm, { ...options, speedMmPerS });
  for (let y = 0; y < rows; y++) timer.add(line, 1);
  return timer.runTime();
}

/** L* at this share of the way from the bare surface to the end of the material's table. */
export function wantedLightness(material: Material, darkness: number): number {
  const bare = lightnessFromLuminance(material.curve.bare);
  return bare + darkness * (lightnessFromLuminance(material.curve.saturated) - bare);
}

/**
 * A tone counts as reached within this difference in L*. The difference is invisible, and a saturating tone would need any dose
 * to close it.
 */
const REACHED_WITHIN = 0.1;

/** At this dose more dose changes nothing, even between lines, unless lines leave gaps. */
const MAX_DOSE = 8;
const HALVINGS = 40;

/**
 * The dose at which a solid fill has this mean L*, including ripple and gaps, and the power or speed for it. Undefined if no dose
 * reaches it.
 *
 * @param peakDose dose on the centre of a line of a fill at dose 1
 */
export function shadeSetting(
  frame: Frame,
  options: ResolvedOptions,
  lightness: number,
  peakDose: number,
): ShadeSetting | undefined {
  const { pitch, spot, motion, material, speedMmPerS, passes } = options;
  const memory = createKernelMemory();
  const exposure = planExposure(pitch, spot, motion, { material });
  const reaches = (dose: number): boolean => {
    const found = lightnessFromLuminance(
      solidLuminance({ plan: exposure, response: material.curve, memory }, dose),
    );
    const beyond = material.curve.darkens ? lightness - found : found - lightness;
    return beyond >= -REACHED_WITHIN;
  };
  if (!reaches(MAX_DOSE)) return;
  let [low, high] = [0, MAX_DOSE];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (reaches(middle)) high = middle;
    else low = middle;
  }
  const ofPasses = doseOfPasses(passes, material.lineExponent);
  const powerFactor = (high * pitch.acrossMm) / referencePitchMm(spot, material) / ofPasses;
  const speed = speedMmPerS / powerFactor;
  const { lineExponent } = material;
  const fill = { dose: high, pitchMm: pitch.acrossMm, speedMmPerS, passes, lineExponent };
  return {
    dose: high,
    peakDose: high * peakDose,
    powerFactor,
    ...(options.fullTone && { powerPercent: powerPercentFor(options.fullTone, fill) }),
    speedMmPerS: speed,
    secondsAtSpeed: solidRunTime(frame, options, speed).seconds,
  };
}
