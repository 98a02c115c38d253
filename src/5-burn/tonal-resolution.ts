import { createKernelMemory } from "../core/kernel-memory.js";
import { addressableLevels } from "../core/physics/coverage.js";
import { lightnessFromLuminance } from "../core/physics/lightness.js";
import type { Pitch } from "../core/plane.js";
import { apertureMeans } from "./aperture.js";
import type { Exposure } from "./exposure.js";
import { burnFlatPatch, type HalftoneFunction, meanOf, type PatchSize } from "./flat-patch.js";

/** Tones that a square detail of a given side can hold (section 7). */
export interface TonalResolution {
  readonly detailMm: number;
  /** 1 + (power levels − 1) · detail area / pixel area: the count of pixels. */
  readonly addressable: number;
  /** Tones that differ in spite of the graininess of the halftone. */
  readonly nominal: number;
  /** The same while the dose drifts by the process spread. */
  readonly held: number;
}

/** Detail sides that a report states, in mm. */
const DETAIL_SIDES_MM = [0.15, 0.25, 0.5, 1] as const;

const TONES = 33;

/** Six of the largest apertures fit side by side: 36 of them give the spread within about 12 %. */
const PATCH_MM = 6;
const PATCH_MARGIN_PX = 24;

/**
 * Engraves 33 flat patches with equal steps in the L* of the target and averages them in s × s apertures. It counts steps in units
 * of one L* and of the spread σ between apertures:
 *
 *     tones(s) = 1 + Σ |L(i+1) − L(i)| / √(1 + (2σ̄)²)
 *
 * @param burnFractions [33] 0..1, in the order of the patches' tones (`patchLightness`)
 * @param doseSpread s of the process, a share of the dose 0..1: for `held`, σ̄² gains the variance of L over the doses 1 − s, 1, 1 + s
 */
export function tonalResolution(
  exposure: Exposure,
  halftone: HalftoneFunction,
  burnFractions: ArrayLike<number>,
  pitch: Pitch,
  doseSpread: number,
): TonalResolution[] {
  const inMemory = { memory: createKernelMemory(), ...exposure };
  const size = patchSize(pitch);
  const doses = [1, 1 - doseSpread, 1 + doseSpread];
  const lightness = new Float64Array(burnFractions.length);
  const doseVariance = new Float64Array(burnFractions.length);
  const apertureSpread = DETAIL_SIDES_MM.map(() => new Float64Array(burnFractions.length));
  for (let i = 0; i < burnFractions.length; i++) {
    const patch = burnFlatPatch(inMemory, halftone, burnFractions[i], size, doses);
    const atDoses = patch.planes.map((plane) => lightnessFromLuminance(meanOf(plane)));
    lightness[i] = atDoses[0];
    doseVariance[i] = variance(atDoses);
    DETAIL_SIDES_MM.forEach((detailMm, d) => {
      const [alongPx, acrossPx] = [detailMm / pitch.alongMm, detailMm / pitch.acrossMm];
      const means = apertureMeans(patch.planes[0], patch.columns, patch.rows, alongPx, acrossPx);
      apertureSpread[d][i] = Math.sqrt(variance(means.map(lightnessFromLuminance)));
    });
  }
  return DETAIL_SIDES_MM.map((detailMm, d) => ({
    detailMm,
    addressable: Math.round(
      addressableLevels(detailMm * detailMm, pitch.alongMm, pitch.acrossMm, exposure.plan.levels),
    ),
    nominal: countTones(lightness, apertureSpread[d]),
    held: countTones(lightness, apertureSpread[d], doseVariance),
  }));
}

/** L* of the 33 patches in the photo, 0..100. */
export function patchLightness(): Float64Array {
  return Float64Array.from({ length: TONES }, (_, i) => (100 * i) / (TONES - 1));
}

function countTones(lightness: Float64Array, spread: Float64Array, doseVariance?: Float64Array): number {
  let tones = 1;
  for (let i = 0; i + 1 < lightness.length; i++) {
    const meanSpread = (spread[i] + spread[i + 1]) / 2;
    const drift = doseVariance ? (doseVariance[i] + doseVariance[i + 1]) / 2 : 0;
    tones += Math.abs(lightness[i + 1] - lightness[i]) / Math.sqrt(1 + 4 * (meanSpread * meanSpread + drift));
  }
  return tones;
}

function patchSize(pitch: Pitch): PatchSize {
  return {
    columns: Math.ceil(PATCH_MM / pitch.alongMm),
    rows: Math.ceil(PATCH_MM / pitch.acrossMm),
    marginPx: PATCH_MARGIN_PX,
  };
}

function variance(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  const mean = sum / values.length;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i] - mean) ** 2;
  return squares / values.length;
}
