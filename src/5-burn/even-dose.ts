import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { FractionRows } from "./compensate.js";

/**
 * Corrects burn fractions for rows with more or less dose at the same power: each fraction is divided by the dose of its row, up to
 * solid. If spots overlap, tone follows the mean dose, so little of the difference remains. With a 0.115 mm spot on the maple
 * preset, at doses of 0.9 and 1.15: 0.4 to 0.6 of 3.3 to 4.1 L* rms at 508 lines per inch, and 0.06 of 4.5 at 1016. At 254 lines
 * dots hardly overlap, and 1.6 to 1.7 of 1.7 to 2.2 remain. Ours.
 *
 * @param doseOfRow dose of a row, relative to the job
 */
export function evenDoseRows(fractions: FractionRows, doseOfRow: (y: number) => number): FractionRows {
  return (y, out) => {
    fractions(y, out);
    const dose = doseOfRow(y);
    if (dose === 1) return;
    for (let x = 0; x < out.length; x++) {
      if (out[x] > 0) out[x] = Math.min(FRACTION_ONE, Math.floor(out[x] / dose + 0.5));
    }
  };
}
