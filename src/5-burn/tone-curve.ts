import { isotonicRegression } from "../core/isotonic.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import type { Response } from "../core/material/response.js";
import { intervalOf } from "../core/monotone-cubic.js";
import type { ExposurePlan } from "./exposure-plan.js";
import { burnFlatPatch, type HalftoneFunction, meanOf, type PatchSize } from "./flat-patch.js";

/** Mean luminance factor of flat tints of one halftone × spot × pitches × material, monotone in the burn fraction. */
export type ToneCurve = {
  /** Rising, 0 to 1. */
  readonly fractions: Float64Array;
  /** Falling where marks are darker than the surface, rising where they are lighter. */
  readonly luminance: Float64Array;
};

/**
 * Measure the tone curve by simulated flat patches (section 5).
 *
 * Patches are engraved at `fractions`; 0 and 1 are known without engraving, and so are power levels between them. Small departures from monotony (a halftone's
 * texture jumps at simple fractions) are pooled.
 *
 * @param ends luminance factor of the bare surface and of the solid fill
 * @param levels luminance factors of fills at fractions k/(n − 1), k = 0..n − 1, where there are more than two power levels
 */
export function measureToneCurve(
  memory: KernelMemory,
  fractions: Float64Array,
  size: PatchSize,
  halftone: HalftoneFunction,
  plan: ExposurePlan,
  response: Response,
  ends: { readonly bare: number; readonly solid: number },
  levels: readonly number[] = [],
): ToneCurve {
  const known = new Map(levels.map((luminance, k) => [k / (levels.length - 1), luminance]));
  const measured = Float64Array.from(fractions, (fraction) => {
    if (fraction === 0) return ends.bare;
    if (fraction === 1) return ends.solid;
    const fill = known.get(fraction);
    if (fill !== undefined) return fill;
    return meanOf(burnFlatPatch(memory, fraction, size, halftone, plan, response, [1]).planes[0]);
  });
  const sign = response.darkens ? -1 : 1;
  const rising = isotonicRegression(measured.map((luminance) => sign * luminance));
  return { fractions, luminance: rising.map((luminance) => sign * luminance) };
}

/**
 * Burn fraction that gives a luminance factor: the tone curve inverted, linear between measured points. Where the curve is
 * flat (a saturated surface) the smallest fraction is taken: it burns least. A tone just beyond a flat part (doses under
 * which nothing shows) starts from its far end. Outside the reachable range the nearest end.
 */
export function invertToneCurve({ fractions, luminance }: ToneCurve): (luminanceFactor: number) => number {
  const darkens = luminance[luminance.length - 1] < luminance[0];
  const rising = darkens ? luminance.map((value) => -value) : luminance;
  const levels: number[] = [];
  const least: number[] = [];
  const most: number[] = [];
  for (let i = 0; i < rising.length; i++) {
    if (levels.length === 0 || rising[i] > levels[levels.length - 1]) {
      levels.push(rising[i]);
      least.push(fractions[i]);
    }
    most[levels.length - 1] = fractions[i];
  }
  const last = levels.length - 1;
  return (luminanceFactor) => {
    const level = darkens ? -luminanceFactor : luminanceFactor;
    if (!(level > levels[0])) return least[0];
    if (level >= levels[last]) return least[last];
    const k = intervalOf(levels, level);
    if (level === levels[k]) return least[k];
    return most[k] + ((least[k + 1] - most[k]) * (level - levels[k])) / (levels[k + 1] - levels[k]);
  };
}
