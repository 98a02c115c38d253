import { FLAT_EXPOSURE, type RoundExposure } from "../../5-burn/predict.js";
import { middleDiameterMm, type Wrap } from "../../core/wrap.js";
import type { ResolvedOptions } from "../../options/options.js";

/** Diameter of the circle that row y of `rows` goes round, in mm. */
export const diameterOfRowMm = ({ topMm, bottomMm }: Wrap, y: number, rows: number): number =>
  topMm + ((bottomMm - topMm) * (y + 0.5)) / rows;

/**
 * What the turning of a round piece does to its exposure. It turns at a constant rate, so on a circle of diameter D the
 * surface passes at a speed, and columns follow at a pitch, that go as D; power over speed, the dose goes as 1/D.
 */
export function roundExposure({ wrap }: ResolvedOptions, rows: number): RoundExposure {
  if (!wrap) return FLAT_EXPOSURE;
  const middleMm = middleDiameterMm(wrap);
  return { closed: true, doseOfRow: (y) => middleMm / diameterOfRowMm(wrap, y, rows) };
}
