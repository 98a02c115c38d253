import { luminanceFactorAt, type Response } from "../core/material/response.js";

/**
 * Dose at which the surface is half marked: its luminance factor lies half-way between the bare surface's and that of dose 1,
 * the mean dose of a solid fill (section 11). There a mark ends.
 */
export function halfResponseDose(response: Response): number {
  const solid = luminanceFactorAt(response, 1);
  const half = (response.bare + solid) / 2;
  let [low, high] = [0, 1];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (luminanceFactorAt(response, middle) <= half === response.darkens) high = middle;
    else low = middle;
  }
  return high;
}
