import { gaussianBlur } from "../core/gaussian-blur.js";
import type { Pitch } from "../core/plane.js";
import type { Spot } from "../core/spot.js";
import { sigmaMmFromSpotDiameterMm } from "../core/units.js";

/**
 * Make up beforehand for what the spot will blur: unsharp masking with the spot itself as the mask, Y + amount·(Y − B·Y).
 * With amount 1 the spot's blur is undone to first order in its modulation loss, 1 + (1 − M) ≈ 1/M; finer than that is lost
 * anyway. Linear light, as the spot adds dose linearly.
 *
 * @param luminance linear, 0..1, on the engraving grid, row-major; changed in place
 */
export function sharpenForSpot(
  luminance: Float32Array,
  columns: number,
  rows: number,
  pitch: Pitch,
  spot: Spot,
  amount: number,
): void {
  if (amount === 0) return;
  const blurred = gaussianBlur(
    luminance,
    columns,
    rows,
    sigmaMmFromSpotDiameterMm(spot.alongMm) / pitch.alongMm,
    sigmaMmFromSpotDiameterMm(spot.acrossMm) / pitch.acrossMm,
  );
  for (let i = 0; i < luminance.length; i++) {
    luminance[i] = Math.min(1, Math.max(0, luminance[i] + amount * (luminance[i] - blurred[i])));
  }
}
