import { BORDER } from "../core/picture-edge.js";

/** The lightness that a linear luminance of the photo will have on the surface, and back; any scale will do. */
export interface SurfaceLightness {
  readonly of: (luminance: number) => number;
  readonly luminanceOf: (lightness: number) => number;
}

/**
 * Fades a row to the bare surface, evenly in the surface's lightness: half the share keeps half the difference in L*.
 * Border pixels become solid.
 *
 * @param row [columns] linear luminance 0..1; changed in place
 * @param shares [columns] kept of each pixel, 0..1, or `BORDER`: see `EdgeRows`
 * @param bare luminance that stands for the bare surface
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
