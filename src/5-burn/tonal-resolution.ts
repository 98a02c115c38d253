import { createKernelMemory } from "../core/kernel-memory.js";
import { addressableLevels } from "../core/physics/coverage.js";
import { lightnessFromLuminance } from "../core/physics/lightness.js";
import { lineAverageShare, localAverageShare } from "../core/physics/variation.js";
import type { Pitch } from "../core/plane.js";
import type { Spot } from "../core/spot.js";
import type { Spread } from "../core/spread.js";
import { apertureMeans, emptySums, sumFromCorner } from "./aperture.js";
import type { Exposure } from "./exposure.js";
import { burnFlatPatch, type HalftoneFunction, meanOf, type PatchSize } from "./flat-patch.js";

/** Tones that a square detail of a given side can hold (section 7). */
export interface TonalResolution {
  readonly detailMm: number;
  /** 1 + (power levels − 1) · detail area / pixel area: the count of pixels. */
  readonly addressable: number;
  /** Tones that differ in spite of the graininess of the halftone. */
  readonly nominal: number;
  /** The same while the dose varies from piece to piece, from place to place and from line to line. */
  readonly held: number;
}

/** Detail sides that a report states, in mm. */
const DETAIL_SIDES_MM = [0.15, 0.25, 0.5, 1] as const;

/** How finely tones are counted: the number of patches, and their side. */
export interface CountEffort {
  readonly tones: number;
  readonly patchMm: number;
}

/** A patch four times as wide counts the same within 2 %, on dispersed, clustered and regular dots (24 mm, 8000 places). */
export const FULL_COUNT: CountEffort = { tones: 33, patchMm: 6 };
const PATCH_MARGIN_PX = 24;

interface Patches {
  readonly pitch: Pitch;
  readonly spot: Spot;
  /** Side of a patch. Default: that of a full count. */
  readonly patchMm?: number;
}

/** A smaller common part takes no tones away, and its runs would be too close for a slope. */
const MIN_COMMON = 0.001;
const SLOPE_STEP = 0.01;

/** A patch at one dose of the whole piece. */
interface Tint {
  readonly lightness: number;
  /** Of L* over ln dose. */
  readonly slope: number;
  /** [details] Standard deviation of L* between apertures. */
  readonly grain: readonly number[];
}

/**
 * Engraves flat patches (33 in a report) with equal steps in the L* of the target and averages them in s × s apertures. It counts
 * steps in units of one L* and of the spread σ between apertures:
 *
 *     tones(s) = 1 + Σ |L(i+1) − L(i)| / √(1 + (2σ̄)²)
 *
 * For `held`, σ̄² gains what the local and the line part of the machine's variation leave in an aperture. The common part
 * moves all tones together: they are counted at 1 − σ, 1 and 1 + σ of the dose, and the least count holds.
 *
 * @param burnFractions 0..1, of patches with equal steps in L* (`patchLightness`)
 */
export function tonalResolution(
  exposure: Exposure,
  halftone: HalftoneFunction,
  burnFractions: ArrayLike<number>,
  { pitch, spot, patchMm = FULL_COUNT.patchMm }: Patches,
  spread: Spread,
): TonalResolution[] {
  const inMemory = { memory: createKernelMemory(), ...exposure };
  const size = patchSize(pitch, patchMm);
  const patches = Array.from(burnFractions, (fraction) =>
    tintsOf(inMemory, halftone, fraction, { pitch, size, common: spread.common }),
  );
  const atDoses = patches[0].map((_, dose) => patches.map((tints) => tints[dose]));
  return DETAIL_SIDES_MM.map((detailMm, detail) => {
    const variance = doseVariance(detailMm, pitch, spot, spread);
    return {
      detailMm,
      addressable: Math.round(
        addressableLevels(detailMm * detailMm, pitch.alongMm, pitch.acrossMm, exposure.plan.levels),
      ),
      nominal: countTones(atDoses[0], detail, 0),
      held: Math.min(...atDoses.map((tints) => countTones(tints, detail, variance))),
    };
  });
}

/** L* of the patches in the photo, 0..100. */
export function patchLightness(tones = FULL_COUNT.tones): Float64Array {
  return Float64Array.from({ length: tones }, (_, i) => (100 * i) / (tones - 1));
}

/** A flat patch at the nominal dose and, if the dose of the whole piece varies, at one deviation less and one more. */
function tintsOf(
  exposure: Exposure,
  halftone: HalftoneFunction,
  fraction: number,
  { pitch, size, common }: { readonly pitch: Pitch; readonly size: PatchSize; readonly common: number },
): Tint[] {
  const varies = common >= MIN_COMMON;
  const step = varies ? common : SLOPE_STEP;
  const doses = [1, 1 - step, 1 + step];
  const { planes, columns, rows } = burnFlatPatch(exposure, halftone, fraction, size, doses);
  const lightness = planes.map((plane) => lightnessFromLuminance(meanOf(plane)));
  const slopes = parabolaSlopes(doses.map(Math.log), lightness);
  const sums = emptySums(columns, rows);
  return planes.slice(0, varies ? planes.length : 1).map((plane, k) => {
    sumFromCorner(plane, sums);
    const grain = DETAIL_SIDES_MM.map((detailMm) =>
      lightnessDeviation(apertureMeans(sums, detailMm / pitch.alongMm, detailMm / pitch.acrossMm)),
    );
    return { lightness: lightness[k], slope: slopes[k], grain };
  });
}

/** Variance of ln dose between apertures of side s: σ_local²·g(s)² + σ_line² times the share that averaging over lines leaves. */
function doseVariance(
  sideMm: number,
  pitch: Pitch,
  spot: Spot,
  { local, localLengthMm, line }: Spread,
): number {
  return (
    local ** 2 * localAverageShare(sideMm, sideMm, localLengthMm) +
    line ** 2 * lineAverageShare(sideMm, pitch.acrossMm, spot.acrossMm)
  );
}

function countTones(tints: readonly Tint[], detail: number, doseVariance: number): number {
  let tones = 1;
  for (let i = 0; i + 1 < tints.length; i++) {
    const [here, next] = [tints[i], tints[i + 1]];
    const grain = (here.grain[detail] + next.grain[detail]) / 2;
    const wander = (doseVariance * (here.slope ** 2 + next.slope ** 2)) / 2;
    tones += Math.abs(next.lightness - here.lightness) / Math.sqrt(1 + 4 * (grain * grain + wander));
  }
  return tones;
}

/** Slopes of the parabola through three points, at these points: those of Lagrange's polynomial. */
function parabolaSlopes([x0, x1, x2]: readonly number[], [y0, y1, y2]: readonly number[]): number[] {
  const first = (y1 - y0) / (x1 - x0);
  const second = ((y2 - y1) / (x2 - x1) - first) / (x2 - x0);
  return [x0, x1, x2].map((x) => first + second * (2 * x - x0 - x1));
}

function patchSize(pitch: Pitch, sideMm: number): PatchSize {
  return {
    columns: Math.ceil(sideMm / pitch.alongMm),
    rows: Math.ceil(sideMm / pitch.acrossMm),
    marginPx: PATCH_MARGIN_PX,
  };
}

/** Standard deviation of L*. @param luminance factors, overwritten by their L* */
function lightnessDeviation(luminance: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < luminance.length; i++) {
    luminance[i] = lightnessFromLuminance(luminance[i]);
    sum += luminance[i];
  }
  const mean = sum / luminance.length;
  let squares = 0;
  for (let i = 0; i < luminance.length; i++) squares += (luminance[i] - mean) ** 2;
  return Math.sqrt(squares / luminance.length);
}
