import { wholePercent } from "../../core/words.js";
import type { Report, Warning } from "../report.js";

/**
 * A seam is seen where the picture's step there is plain to see, three times a just noticeable difference, and out of the
 * ordinary. A picture that repeats has about the usual step there. Of twelve that do not (seven photographs, five of our
 * pictures) five have sides that are plain or busy alike, and 0.04 to 1.5 times the usual step; the others 2.5 to 9 times.
 */
const SEAM_STEP = 3;
const SEAM_OVER_USUAL = 2;

/**
 * Slope that calls for tilting the axis, as the change of the radius from end to end. A spot of 0.1 mm at 10.6 µm is √2 times
 * wider π·0.05²/0.0106 = 0.74 mm from its focus (Rayleigh length of a Gaussian beam: Siegman 1986, ch. 17); with the focus
 * half-way down, the ends of a level axis are half the change away.
 */
const RADIUS_CHANGE_MM = 1.5;

/** What a user should know of a piece that turns under the beam, before burning. */
export function roundWarnings({ kind, around, doseSpread, heightMm, compensated }: Report["job"]): Warning[] {
  if (!around) return [];
  const warnings: Warning[] = [];
  const { seam, cone } = around;
  if (
    seam &&
    seam.stepLightness > SEAM_STEP &&
    seam.stepLightness > SEAM_OVER_USUAL * seam.usualStepLightness
  ) {
    const remedy =
      cone?.layout === "flat"
        ? "On a cone laid flat they hardly ever do: --cone level makes the sides of a picture that repeats meet, or --fit contain leaves bare surface between them."
        : "Turn the piece so that it lies at the back, take a picture that repeats, or leave bare surface between them by --height with --fit contain.";
    warnings.push({
      code: "seam-shows",
      message: `The picture's sides do not meet: where they come together L* jumps by ${seam.stepLightness.toFixed(0)}, elsewhere by ${seam.usualStepLightness.toFixed(0)} from column to column. ${remedy}`,
    });
  }
  if (!cone) return warnings;
  const radiusChangeMm = Math.abs(around.topDiameterMm - around.bottomDiameterMm) / 2;
  if (radiusChangeMm > RADIUS_CHANGE_MM) {
    warnings.push({
      code: "cone-slope",
      message: `The surface slopes by ${cone.halfAngleDeg.toFixed(1)}°: tilt the axis by as much, so that the line under the beam lies level, or the ends of the ${heightMm.toFixed(0)} mm are ${(radiusChangeMm / 2).toFixed(1)} mm out of focus either way.`,
    });
  }
  // Within the spread the expected visual error has counted it already.
  const swing = Math.max(cone.doseFactor.most - 1, 1 - cone.doseFactor.least);
  if (swing > doseSpread) {
    const remedy =
      kind === "solid"
        ? "Marks grow wider at the narrow end and less so at the wide end. Less height at a time with the power set anew is safer."
        : compensated
          ? "Fewer pixels burn at the narrow end and more at the wide end, so that every row gets the same mean dose; but the darkest tones of the wide end stay lighter, and where dots stand apart those of the narrow end are stronger. Less height at a time with the power set anew is safer."
          : "Tones drift from end to end, for they are not compensated.";
    warnings.push({
      code: "cone-dose",
      message: `At a constant turning speed the narrow end gets ${wholePercent(cone.doseFactor.most)} of the dose half-way down, the wide end ${wholePercent(cone.doseFactor.least)}: more than the dose spread of ${wholePercent(doseSpread)}. ${remedy}`,
    });
  }
  return warnings;
}
