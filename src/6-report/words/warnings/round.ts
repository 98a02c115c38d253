import { lengthWords } from "../../../core/shown-units.js";
import { wholePercent } from "../../../core/words.js";
import { fixed } from "../matter.js";
import { warning } from "./rule.js";

/**
 * A seam is visible if the picture's step there is at least three times a just noticeable difference, and larger than usual. A
 * picture that repeats has about the usual step there. Of twelve that do not (seven photographs, five of our pictures) five have
 * sides that are equally plain or equally busy, and 0.04 to 1.5 times the usual step; the others have 2.5 to 9 times.
 */
const SEAM_STEP = 3;
const SEAM_OVER_USUAL = 2;

/**
 * From this change of the radius from end to end, the axis should be tilted. A spot of 0.1 mm at 10.6 µm is √2 times
 * wider π·0.05²/0.0106 = 0.74 mm from its focus (Rayleigh length of a Gaussian beam: Siegman 1986, ch. 17); with the focus
 * half-way down, the ends of a level axis are half the change away.
 */
const RADIUS_CHANGE_MM = 1.5;

/** Pieces that turn under the beam. */
export const roundWarnings = {
  "picture-over-mark": warning({
    title: "The picture crosses your mark",
    when: ({ job: { around } }) => {
      if (!around?.placed) return;
      const { angleDeg, turnDeg } = around.placed;
      const halfDeg = turnDeg / 2;
      // In its middle the mark is the user's wish.
      if (angleDeg === 0 || (angleDeg >= halfDeg && angleDeg <= 360 - halfDeg)) return;
      return { fromDeg: (angleDeg - halfDeg + 360) % 360, toDeg: (angleDeg + halfDeg) % 360, halfDeg };
    },
    happens: ({ fromDeg, toDeg }) =>
      `The picture reaches from ${fixed(fromDeg, 1)}° past your mark at 0° to ${fixed(toDeg, 1)}°.`,
    whatToDo: ({ halfDeg }, reader) =>
      `If the mark is a seam or a handle, choose an angle from ${fixed(halfDeg, 1)}° to ${fixed(360 - halfDeg, 1)}° in ${reader.option("place")}, or a smaller ${reader.option("widthMm")}.`,
  }),
  "seam-shows": warning({
    title: "The seam will show",
    when: ({ job: { around } }) => {
      if (!around?.seam) return;
      const { stepLightness, usualStepLightness } = around.seam;
      return (
        stepLightness > SEAM_STEP &&
        stepLightness > SEAM_OVER_USUAL * usualStepLightness && {
          stepLightness,
          usualStepLightness,
          flatCone: around.cone?.layout === "flat",
        }
      );
    },
    happens: ({ stepLightness, usualStepLightness, flatCone }) =>
      `The picture's sides do not meet: where they come together L* jumps by ${fixed(stepLightness, 0)}, elsewhere by ${fixed(usualStepLightness, 0)} from column to column.${flatCone ? " On a cone laid flat they hardly ever meet." : ""}`,
    whatToDo: ({ flatCone }, reader) =>
      flatCone
        ? `${reader.setting("coneLayout", "level")} makes the sides of a picture that repeats meet; ${reader.setting("fit", "contain")} leaves bare surface between them.`
        : `Turn the seam to the back, or take a picture that repeats. Or leave bare surface between the sides: give ${reader.option("heightMm")} and set ${reader.setting("fit", "contain")}.`,
  }),
  "cone-slope": warning({
    title: "A sloping surface",
    when: ({ job: { around, heightMm } }) => {
      if (!around?.cone) return;
      const radiusChangeMm = Math.abs(around.topDiameterMm - around.bottomDiameterMm) / 2;
      return (
        radiusChangeMm > RADIUS_CHANGE_MM && {
          halfAngleDeg: around.cone.halfAngleDeg,
          heightMm,
          radiusChangeMm,
        }
      );
    },
    happens: ({ halfAngleDeg, heightMm, radiusChangeMm }, { units }) =>
      `The surface slopes by ${fixed(halfAngleDeg, 1)}°: on a level axis the ends of the ${lengthWords(heightMm, units, 0)} are ${fixed(radiusChangeMm / 2, 1)} mm out of focus either way.`,
    whatToDo: () =>
      "Tilt the axis by that angle, so that the line under the beam lies level, and set the focus half-way down.",
  }),
  "cone-dose": warning({
    title: "The dose changes along the cone",
    when: ({ job: { around, doseSpread, kind, compensated } }) => {
      if (!around?.cone) return;
      // The dose of a whole piece may be off by as much anyway.
      const { least, most } = around.cone.doseFactor;
      return Math.max(most - 1, 1 - least) > doseSpread && { least, most, doseSpread, kind, compensated };
    },
    happens({ least, most, doseSpread, kind, compensated }) {
      const tones = compensated
        ? "Fewer pixels burn at the narrow end and more at the wide end, so every row gets the same mean dose. But the darkest tones of the wide end stay lighter, and where dots stand apart, those of the narrow end are stronger."
        : "Tones drift from end to end, because they are not compensated.";
      const marks = "Marks grow wider at the narrow end than at the wide end.";
      return `At a constant turning speed the narrow end gets ${wholePercent(most)} of the dose half-way down, and the wide end ${wholePercent(least)}: that is more than the ${wholePercent(doseSpread)} by which the dose of a whole piece may be off. ${kind === "solid" ? marks : tones}`;
    },
    whatToDo: () => "Engrave less height at a time, and set the power anew for each part.",
  }),
};
