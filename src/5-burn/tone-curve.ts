import { isotonicRegression } from "../core/isotonic.js";
import { createKernelMemory } from "../core/kernel-memory.js";
import { intervalOf } from "../core/monotone-cubic.js";
import type { Exposure } from "./exposure.js";
import { burnFlatPatch, type HalftoneFunction, meanOf, type PatchSize } from "./flat-patch.js";

/** Mean luminance factor of flat tints of one halftone × spot × pitches × material, monotone in the burn fraction. */
export type ToneCurve = {
  /** Rising, 0 to 1. */
  readonly fractions: Float64Array;
  /** Falling if marks are darker than the surface, rising if they are lighter. */
  readonly luminance: Float64Array;
};

/** Luminance factors of fills that need no simulated patch. */
export interface KnownFills {
  readonly bare: number;
  readonly solid: number;
  /** [levels] Fills of each power level, if there are more than two. */
  readonly levels?: readonly number[];
}

/**
 * Measure the tone curve by simulated flat patches (section 5).
 *
 * Small deviations from a monotone curve are pooled. They occur because the texture of a halftone jumps at simple fractions.
 *
 * @param halftone see `patchHalftone`
 * @param fractions [points] rising from 0 to 1, of the patches; known fills need no patch
 */
export function measureToneCurve(
  exposure: Exposure,
  halftone: HalftoneFunction,
  fractions: Float64Array,
  size: PatchSize,
  { bare, solid, levels = [] }: KnownFills,
): ToneCurve {
  const inMemory = { memory: createKernelMemory(), ...exposure };
  const known = new Map(levels.map((luminance, k) => [k / (levels.length - 1), luminance]));
  known.set(0, bare).set(1, solid);
  const measured = Float64Array.from(
    fractions,
    (fraction) =>
      known.get(fraction) ?? meanOf(burnFlatPatch(inMemory, halftone, fraction, size, [1]).planes[0]),
  );
  const sign = exposure.response.darkens ? -1 : 1;
  const rising = isotonicRegression(measured.map((luminance) => sign * luminance));
  return { fractions, luminance: rising.map((luminance) => sign * luminance) };
}

/**
 * Burn fraction for a luminance factor: the inverse tone curve, linear between measured points. If the curve is flat (a saturated
 * surface), the result is the smallest fraction, which burns least. A tone just beyond a flat part (doses too low for a mark)
 * starts from the far end of that part. Outside the reachable range the result is the nearest end.
 *
 * @returns burn fraction 0..1 by luminance factor 0..1
 */
export function invertToneCurve({ fractions, luminance }: ToneCurve): (luminanceFactor: number) => number {
  const darkens = luminance[luminance.length - 1] < luminance[0];
  const rising = darkens ? luminance.map((value) => -value) : luminance;
  /** The distinct tones of the curve, and the smallest and the largest fraction of each. */
  const tones: number[] = [];
  const min: number[] = [];
  const max: number[] = [];
  for (let i = 0; i < rising.length; i++) {
    if (tones.length === 0 || rising[i] > tones[tones.length - 1]) {
      tones.push(rising[i]);
      min.push(fractions[i]);
    }
    max[tones.length - 1] = fractions[i];
  }
  const last = tones.length - 1;
  return (luminanceFactor) => {
    const tone = darkens ? -luminanceFactor : luminanceFactor;
    if (!(tone > tones[0])) return min[0];
    if (tone >= tones[last]) return min[last];
    const k = intervalOf(tones, tone);
    if (tone === tones[k]) return min[k];
    return max[k] + ((min[k + 1] - max[k]) * (tone - tones[k])) / (tones[k + 1] - tones[k]);
  };
}
