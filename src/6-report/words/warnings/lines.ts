import { charRiskFacts } from "../../../core/material/char-risk.js";
import { NOT_NOTICEABLE } from "../../../core/physics/lightness.js";
import { percentWords, wholePercent } from "../../../core/words.js";
import { fixed } from "../matter.js";
import { charRisk, lineGaps, measureIt, runUpDominates } from "../shared-matters.js";
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

/**
 * Tone beyond the last dose of a response, in L*, that is told. A table that was not measured is not as sure as that anyway: there
 * only what is just noticeable counts.
 */
const TOLD = { measured: NOT_NOTICEABLE, illustrative: 1 } as const;
/** Share of the piece beyond the last dose that is told. */
const LEAST_SHARE = 0.001;

/** Effects of dense lines and of high speed. */
export const doseWarnings = {
  "char-risk": warning({
    ...charRisk,
    when: ({ job, coverage, facts }) => charRiskFacts(job.material, facts.charDose, 1, coverage.peakDose),
  }),
  "response-extrapolated": warning({
    title: "More dose than was measured",
    when({ job: { material, materialSource }, facts: { extrapolation } }) {
      if (!extrapolation) return false;
      const isMeasured = /^measured\b/i.test(materialSource);
      const { lightness, share = 1 } = extrapolation;
      const isTold = lightness > TOLD[isMeasured ? "measured" : "illustrative"] && share >= LEAST_SHARE;
      return isTold && { material, isMeasured, ...extrapolation };
    },
    happens: ({ material, isMeasured, lastDose, peakDose, lightness, share }) =>
      `${share === undefined ? "Parts" : `${percentWords(Number(share.toPrecision(2)))}`} of the piece get more dose than the response of ${material} goes: it ${isMeasured ? "was measured" : "is given"} up to dose ${lastDose} while its tone still changes, and line centres of solid parts get ${fixed(peakDose, 2)}. Solid parts may come out up to ${fixed(lightness, 1)} L* further from the bare surface than predicted.`,
    whatToDo: ({ isMeasured, lastDose, peakDose, material }, reader) =>
      `${isMeasured ? `Engrave a second test card with ${fixed(Math.max(1.1, peakDose / lastDose), 1)} × the power of the first, and read both together: ${reader.testCard()}` : measureIt(material, reader).replace(/\.$/, "")}. Or raise ${reader.option("linesPerInch")}, which evens out the dose.`,
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
