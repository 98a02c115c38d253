import { defocusedSpot } from "../core/physics/lens.js";
import { refusal } from "../core/refusals/refusals.js";
import type { Spot } from "../core/spot.js";
import { MAX_SPOT_MM } from "./table/size.js";

/** The options that widen a measured spot. */
interface FocusOptions {
  readonly wavelengthMm?: number | undefined;
  readonly propagationRatio: number;
  readonly defocusMm: number;
}

/**
 * The spot on the work: as measured at the focus, or wider if the work lies beside it. Throws `OPTION_CONFLICT` without a
 * wavelength, and `OPTION_TOO_LARGE` for a spot that is too wide for the model.
 */
export function spotOnWork(focus: Spot, { wavelengthMm, propagationRatio, defocusMm }: FocusOptions): Spot {
  if (defocusMm === 0) return focus;
  const faulty = { received: defocusMm };
  if (wavelengthMm === undefined) throw refusal("defocus-needs-wavelength", {}, faulty);
  const spot = defocusedSpot(focus, { wavelengthMm, propagationRatio, defocusMm });
  const spotMm = Math.max(spot.alongMm, spot.acrossMm);
  if (spotMm > MAX_SPOT_MM) throw refusal("defocus-too-far", { spotMm, maxMm: MAX_SPOT_MM }, faulty);
  return spot;
}

/** One diameter, or one along and one across. */
export const spotOf = (given: number | Spot): Spot =>
  typeof given === "number" ? { alongMm: given, acrossMm: given } : given;
