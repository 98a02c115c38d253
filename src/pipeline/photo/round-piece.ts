import type { Frame } from "../../3-resample/frame.js";
import { FLAT_EXPOSURE, type RoundExposure } from "../../5-burn/predict.js";
import { type Diameters, middleDiameterMm } from "../../core/wrap.js";

/** Diameter of the circle of row y of `rows`, in mm. */
export const diameterOfRowMm = ({ topMm, bottomMm }: Diameters, y: number, rows: number): number =>
  topMm + ((bottomMm - topMm) * (y + 0.5)) / rows;

/**
 * The effect of turning on the exposure of a round piece. The piece turns at a constant rate, so on a circle of diameter D both
 * surface speed and pitch are proportional to D. The dose is power over speed, so it is proportional to 1/D.
 */
export function roundExposure({ circles, rows }: Pick<Frame, "circles" | "rows">): RoundExposure {
  if (!circles) return FLAT_EXPOSURE;
  const middleMm = middleDiameterMm(circles);
  return { closed: circles.ring, doseOfRow: (y) => middleMm / diameterOfRowMm(circles, y, rows) };
}
