/** CIE 1976 lightness L* (0..100) of the luminance factor Y (0..1). Source: CIE 15; ISO/CIE 11664-4. */

/** Luminance factor below which L* is a straight line, (6/29)³. */
const KNEE = 216 / 24389;

/** Slope of that line, (29/3)³. The exact fraction: the rounded 903.3 of older texts leaves a step at the knee. */
const SLOPE = 24389 / 27;

/** L* where the two branches meet. */
const KNEE_LIGHTNESS = 8;

/** Lightness L* of a luminance factor: 116·Y^(1/3) − 16 above 216/24389, else (24389/27)·Y. Source: CIE 15 (2004). */
export function lightnessFromLuminance(luminance: number): number {
  return luminance > KNEE ? 116 * Math.cbrt(luminance) - 16 : SLOPE * luminance;
}

/** Change of L* by luminance factor: the derivative of `lightnessFromLuminance`. */
export function lightnessSlope(luminance: number): number {
  return luminance > KNEE ? 116 / (3 * Math.cbrt(luminance) ** 2) : SLOPE;
}

/** Luminance factor of a lightness L*: ((L* + 16)/116)³ above 8, else L*·27/24389. Source: CIE 15 (2004). */
export function luminanceFromLightness(lightness: number): number {
  if (lightness <= KNEE_LIGHTNESS) return lightness / SLOPE;
  const root = (lightness + 16) / 116;
  return root * root * root;
}

/** Difference in visual error that an eye does not notice, in L*: a third of what is just noticeable side by side (our choice). */
export const NOT_NOTICEABLE = 0.3;
