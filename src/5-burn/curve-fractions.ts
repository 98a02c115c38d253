import type { Response } from "../core/material/response.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../core/physics/lightness.js";
import { levelPowers } from "../core/power-levels.js";

/**
 * Burn fractions at which to measure a tone curve, rising from 0 to 1, close together where the tone changes fast.
 *
 * Every job lies between two limits. If spots are much smaller than the pitch, tone is linear in the fraction, so half of the
 * points are equally spaced. If spots are much larger, the dose is even and equals the fraction, so the other half are at equal
 * steps of L* along the response of the material.
 *
 * @param count approximate number of points, 33 or more, without those at power levels
 * @param levels power levels: tints at the levels have no texture, so the curve has kinks there
 */
export function curveFractions(response: Response, count: number, levels = 2): Float64Array {
  const half = Math.ceil(count / 2);
  const fractions = new Set<number>(levelPowers(levels));
  for (let i = 1; i < half; i++) fractions.add(i / half);
  for (let i = 1; i < half; i++) {
    const dose = doseAtShareOfLightness(response, i / half);
    if (dose > 0 && dose < 1) fractions.add(dose);
  }
  return Float64Array.from(fractions).sort();
}

/** First table dose at which a share of the whole change in L* is reached. */
function doseAtShareOfLightness({ bare, saturated, table, stepsPerDose }: Response, share: number): number {
  const from = lightnessFromLuminance(bare);
  const wanted = luminanceFromLightness(from + share * (lightnessFromLuminance(saturated) - from));
  const sign = Math.sign(saturated - bare);
  let low = 0;
  let high = table.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (sign * (table[middle] - wanted) < 0) low = middle;
    else high = middle;
  }
  return high / stepsPerDose;
}
