import { linearFromSrgb } from "./transfer.js";

/** CIE 1976 L*a*b*. */
export interface Lab {
  readonly lightness: number;
  readonly a: number;
  readonly b: number;
}

/** Linear sRGB to XYZ relative to its white point D65. Source: IEC 61966-2-1, each row divided by its sum. */
const TO_XYZ = [
  [0.4124 / 0.9505, 0.3576 / 0.9505, 0.1805 / 0.9505],
  [0.2126, 0.7152, 0.0722],
  [0.0193 / 1.089, 0.1192 / 1.089, 0.9505 / 1.089],
] as const;

/** L*a*b* under D65 of an sRGB colour 0..255. Source: CIE 15 (2004). */
export function labFromSrgb(red: number, green: number, blue: number): Lab {
  const linear = [red, green, blue].map((code) => linearFromSrgb(code / 255));
  const [x, y, z] = TO_XYZ.map((row) =>
    cubeRoot(row.reduce((sum, weight, k) => sum + weight * linear[k], 0)),
  );
  return { lightness: 116 * y - 16, a: 500 * (x - y), b: 200 * (y - z) };
}

/** Euclidean distance ΔE. Source: CIE 15 (2004). */
export const labDistance = (one: Lab, other: Lab): number =>
  Math.hypot(one.lightness - other.lightness, one.a - other.a, one.b - other.b);

/** The cube root, with the straight line of CIE 15 near black. */
const cubeRoot = (share: number): number =>
  share > 216 / 24389 ? Math.cbrt(share) : ((24389 / 27) * share + 16) / 116;
