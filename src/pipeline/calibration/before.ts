import type { CalibrationBefore } from "../../6-report/calibration.js";
import { luminanceFactorAt } from "../../core/material/response.js";
import type { Reader } from "../../core/reader.js";
import type { CalibrateOptions } from "../../options/calibrate-options.js";
import type { ResolvedOptions } from "../../options/options.js";

/** What the user's files, options and defaults say of what a card measures. */
export function believedBefore(
  doses: readonly number[],
  options: CalibrateOptions,
  { material, spot, motion }: ResolvedOptions,
  { givenBy = {} }: Reader,
): CalibrationBefore {
  const figure = (option: keyof CalibrateOptions, value: number) => ({
    value,
    ...(options[option] !== undefined && { from: givenBy[option] ?? "given" }),
  });
  return {
    material: material.name,
    response: doses.map((dose) => ({ dose, luminance: luminanceFactorAt(material.curve, dose) })),
    figures: {
      spotAlongMm: figure("spotMm", spot.alongMm),
      spotAcrossMm: figure("spotMm", spot.acrossMm),
      firingLagUs: figure("firingLagUs", motion.firingLagUs),
      firingLossUs: figure("firingLossUs", motion.firingLossUs),
      lineShiftMm: figure("lineShiftMm", motion.lineShiftMm),
      lineExponent: {
        value: material.lineExponent ?? 1,
        ...(material.lineExponent !== undefined && { from: material.name }),
      },
    },
  };
}
