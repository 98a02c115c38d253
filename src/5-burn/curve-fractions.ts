import type { Response } from "../core/material/response.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../core/physics/lightness.js";
import { levelPowers } from "../core/power-levels.js";

/**
 * Burn fractions at which to measure a tone curve, rising from 0 to 1, close together where the tone moves.
 *
 * Two limits bracket every job. Spots much smaller than the pitch: tone is linear in the fraction, so half of the points are
 * equally spaced. Spots much larger: the dose is even and equals the fraction, so the other half sit at equal steps of L*
 * along the material's own response.
 *
 * @param count about how many; 33 or more, those at power levels not counted
 * @param levels power levels: tints at the levels themselves have no texture, and the curve bends there
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
