/** Conversions between stored picture values and light. Values are 0..1, both ends included. */

/**
 * Linear light of an sRGB encoded value: c/12.92 up to 0.04045, else ((c + 0.055)/1.055)^2.4.
 * Source: IEC 61966-2-1.
 */
export function linearFromSrgb(encoded: number): number {
  return encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;
}

/**
 * sRGB encoded value of linear light: 12.92·l up to 0.0031308, else 1.055·l^(1/2.4) − 0.055.
 * Source: IEC 61966-2-1.
 */
export function srgbFromLinear(linear: number): number {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
}

/**
 * Relative luminance of linear red, green and blue: 0.2126 R + 0.7152 G + 0.0722 B.
 * On linear light only: weighting encoded values is a common error. Source: ITU-R BT.709.
 */
export function luminanceFromLinearRgb(red: number, green: number, blue: number): number {
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Reflection density of a luminance factor: −log₁₀ R; Infinity for R = 0. Source: ISO 5-4. */
export function reflectionDensity(luminance: number): number {
  return -Math.log10(luminance);
}
