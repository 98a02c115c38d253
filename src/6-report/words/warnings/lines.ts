import { charRiskFacts } from "../../../core/material/char-risk.js";
import { wholePercent } from "../../../core/words.js";
import { fixed } from "../matter.js";
import { charRisk, lineGaps, runUpDominates } from "../shared-matters.js";
import { warning } from "./rule.js";

/** Share of burned pixels on a material that lightens, above which the background probably burns too. */
const MOSTLY_BURNED = 0.5;
const LARGE_SPOT_MM = 0.5;
/** Minimum share of the line time that is mentioned. */
const WORTH_SAVING = 0.05;

/** Lines and their effect on the surface. */
export const lineWarnings = {
  "mostly-burned": warning({
    title: "Most of the surface burns",
    when: ({ coverage: { burnFraction }, job, facts }) =>
      !facts.darkens &&
      burnFraction > MOSTLY_BURNED && { burnFraction, kind: job.kind, inLevels: job.levels > 2 },
    happens: ({ burnFraction, inLevels }) =>
      `${wholePercent(burnFraction)} of the pixels burn${inLevels ? ", counted at full power" : ""}: the background may be among them.`,
    whatToDo: ({ kind }, reader) =>
      `If it must not burn, cut it out and save the picture as a PNG with transparency: transparent parts stay bare.${kind === "solid" ? ` Or swap light and dark with ${reader.setting("negative", true)}.` : ""}`,
  }),
  "spot-large": warning({
    title: "An unusually large spot",
    when: ({ job }) => {
      const spotMm = Math.max(job.spotAlongMm, job.spotAcrossMm);
      return spotMm > LARGE_SPOT_MM && { spotMm };
    },
    happens: ({ spotMm }) => `A spot of ${fixed(spotMm, 2)} mm is unusually large.`,
    whatToDo: (_, reader) =>
      `Check the unit and the decimal point of ${reader.option("spotMm")}. To measure it, look at the mark of a single line under a magnifier.`,
  }),
  "line-gaps": warning({
    ...lineGaps,
    when: ({ coverage: { gapMm }, job }) =>
      gapMm > 0 && {
        gapMm,
        spotMm: job.spotAcrossMm,
        pitchMm: job.pitchAcrossMm,
        matchedLinesPerInch: job.matchedLinesPerInch,
      },
  }),
};

/** Tone beyond the measured doses, in L*, that is just noticeable. */
const NOTICEABLE = 1;

/** Effects of dense lines and of high speed. */
export const doseWarnings = {
  "char-risk": warning({
    ...charRisk,
    when: ({ job, coverage, facts }) => charRiskFacts(job.material, facts.charDose, 1, coverage.peakDose),
  }),
  "response-extrapolated": warning({
    title: "More dose than was measured",
    when: ({ job: { material }, facts: { extrapolation } }) =>
      extrapolation && extrapolation.lightness > NOTICEABLE && { material, ...extrapolation },
    happens: ({ material, lastDose, peakDose, lightness }) =>
      `Line centres of solid parts get a dose of ${fixed(peakDose, 2)}, and the response of ${material} ends at dose ${lastDose} while its tone still changes: solid parts may come out up to ${fixed(lightness, 1)} L* further from the bare surface than predicted.`,
    whatToDo: ({ peakDose }, reader) =>
      `Measure fills up to dose ${fixed(peakDose, 1)} and add them to the material file, or raise ${reader.option("linesPerInch")}, which evens out the dose.`,
  }),
};

export const speedWarnings = {
  "run-up-dominates": warning({
    ...runUpDominates,
    when: ({ runTime: { quickestSpeedMmPerS: quickestMmPerS }, facts }) =>
      quickestMmPerS > 0 &&
      facts.speedMmPerS > quickestMmPerS &&
      facts.savedAtQuickestSpeed > WORTH_SAVING && { speedMmPerS: facts.speedMmPerS, quickestMmPerS },
  }),
};
