import { luminanceFactorAt, type Response } from "./response.js";

/**
 * Dose of a half-marked surface: its luminance factor lies half-way between the bare surface and dose 1, the mean dose of a solid
 * fill (section 11). A mark ends at this dose, of an edge as of a single line. It is the half of the light and not of L*, because
 * the eye averages light: a blurred edge looks as wide as a sharp one that sends back as much light. Engraved widths of solid edges
 * by brute force confirm it (`npm run bench:edges`).
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
