import { FLAT_EXPOSURE, type RoundExposure } from "../../5-burn/predict.js";
import { middleDiameterMm, type Wrap } from "../../core/wrap.js";
import type { ResolvedOptions } from "../../options/options.js";

/** Diameter of the circle of row y of `rows`, in mm. */
export const diameterOfRowMm = ({ topMm, bottomMm }: Wrap, y: number, rows: number): number =>
  topMm + ((bottomMm - topMm) * (y + 0.5)) / rows;

/**
 * The effect of turning on the exposure of a round piece. The piece turns at a constant rate, so on a circle of diameter D both
 * surface speed and pitch are proportional to D. The dose is power over speed, so it is proportional to 1/D.
 */
export function roundExposure({ wrap }: ResolvedOptions, rows: number): RoundExposure {
  if (!wrap) return FLAT_EXPOSURE;
  const middleMm = middleDiameterMm(wrap);
  return { closed: true, doseOfRow: (y) => middleMm / diameterOfRowMm(wrap, y, rows) };
}
