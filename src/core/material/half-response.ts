import { luminanceFactorAt, type Response } from "./response.js";

/** Any smaller change of the luminance factor is rounding. */
const MIN_MARK = 1e-6;

/** Whether a solid fill looks different from the bare surface. */
export const leavesMark = (bare: number, solid: number): boolean => Math.abs(solid - bare) >= MIN_MARK;

/**
 * Dose of a half-marked surface: its luminance factor lies half-way between the bare surface and a solid fill (section 11). A mark
 * ends at this dose, of an edge as of a single line. It is the half of the light and not of L*, because the eye averages light: a
 * blurred edge looks as wide as a sharp one that sends back as much light. Engraved widths of solid edges by brute force confirm it
 * (`npm run bench:edges`).
 *
 * @param solid luminance factor of the solid fill; by default that of dose 1. A fill of lines that do not add never gets dose 1
 */
export function halfResponseDose(response: Response, solid = luminanceFactorAt(response, 1)): number {
  const { bare, darkens, steps, stepsPerDose } = response;
  let [low, high] = [0, steps / stepsPerDose];
  // A fill without a mark has no half: the end of the table counts.
  if (!leavesMark(bare, solid)) return high;
  const half = (bare + solid) / 2;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (luminanceFactorAt(response, middle) <= half === darkens) high = middle;
    else low = middle;
  }
  return high;
}
