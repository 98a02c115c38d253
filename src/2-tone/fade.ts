import { BORDER } from "../core/picture-edge.js";

/** Conversion between linear luminance of the photo and lightness on the surface, on any scale. */
export interface SurfaceLightness {
  readonly of: (luminance: number) => number;
  readonly luminanceOf: (lightness: number) => number;
}

/**
 * Fades a row to the bare surface, evenly in its lightness: a share of ½ keeps half the difference in L*.
 * Border pixels become solid.
 *
 * @param row [columns] linear luminance 0..1; changed in place
 * @param shares [columns] share to keep of each pixel, 0..1, or `BORDER`: see `EdgeRows`
 * @param bare luminance of the bare surface
 */
export function fadeRow(
  row: Float32Array,
  shares: Float32Array,
  bare: 0 | 1,
  lightness: SurfaceLightness,
): void {
  const bareLightness = lightness.of(bare);
  for (let x = 0; x < shares.length; x++) {
    const share = shares[x];
    if (share === 1) continue;
    if (share === 0) row[x] = bare;
    else if (share === BORDER) row[x] = 1 - bare;
    else row[x] = lightness.luminanceOf(bareLightness + share * (lightness.of(row[x]) - bareLightness));
  }
}
