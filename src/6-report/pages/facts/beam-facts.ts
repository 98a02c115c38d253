import { nyquistPerMm } from "../../../core/physics/modulation.js";
import { accelerationWords, speedLimitWords, speedWords } from "../../../core/shown-units.js";
import { densityWords, durationWords, mmWords, percentWords } from "../../../core/words.js";
import type { Report } from "../../report.js";
import { spotAdvice } from "../../words/pace-words.js";
import { limitWords, lossWords, spotWords } from "../../words/report-words.js";
import { alongAcross, digits, type FactSource, factGroup, lightnessError } from "./fact-group.js";

export const spotFacts = factGroup("Spot and lines", ({ report, reader }) => ({ ...report.job, reader }), [
  ["Spot", spotWords, (job) => `1/e² diameter${spotAdvice(job, job.reader)}`],
  [
    "Matched density",
    ({ matchedLinesPerInch }) => `${densityWords(matchedLinesPerInch)} lines per inch`,
    "spots just touch",
  ],
  [
    "Overdrive",
    ({ overdrive }) => overdrive.toFixed(2),
    "spot/pitch ratio: spot diameter over line pitch; 1 is matched",
  ],
]);

const coverageOf = ({ report, settings }: FactSource) => ({
  ...report.coverage,
  powerLevels: report.powerLevels,
  referencePitchMm: settings.material.referencePitchMm,
});

export const coverageFacts = factGroup("Coverage and dose", coverageOf, [
  ["Gap between lines", ({ gapMm }) => (gapMm > 0 ? mmWords(gapMm) : "none"), "pitch less spot"],
  [
    "Bare strip between marks",
    ({ gapMm, markGapMm }) => (markGapMm > gapMm ? `${markGapMm.toFixed(3)} mm` : undefined),
    ({ markWidthMm }) => `a line marks ${mmWords(markWidthMm)}, where its dose passes the threshold`,
  ],
  ["Overlap", ({ gapMm, overlap }) => (gapMm > 0 ? undefined : percentWords(Number(overlap.toFixed(4))))],
  ["Ripple of a solid fill", ({ ripple }) => percentWords(ripple), "swing of the dose from line to line"],
  [
    "Power factor",
    ({ powerFactor, referencePitchMm }) =>
      referencePitchMm === undefined ? undefined : powerFactor.toFixed(3),
    "for the dose of the reference density",
  ],
  [
    "Pixels that burn",
    ({ burnFraction }) => percentWords(burnFraction),
    ({ powerLevels }) => powerLevels && "counted at full power",
  ],
  ["Pixels with the beam on", ({ powerLevels }) => powerLevels && percentWords(powerLevels.beamOnFraction)],
  [
    "Largest step between levels",
    ({ powerLevels }) => powerLevels && lightnessError(powerLevels.largestStepLightness),
    "of a solid fill",
  ],
]);

const limit = ({ alongLpPerMm, acrossLpPerMm }: Report["detail"], at: "at50" | "at10"): string =>
  alongAcross(alongLpPerMm[at].toFixed(1), acrossLpPerMm[at].toFixed(1));

/** If the pitch ends the detail before its contrast is down to a tenth. */
function tenthWords({ detail, job }: Report): string {
  const ended = [
    detail.alongLpPerMm.at10 >= nyquistPerMm(job.pitchAlongMm) && "along",
    detail.acrossLpPerMm.at10 >= nyquistPerMm(job.pitchAcrossMm) && "across",
  ].filter(Boolean);
  const where = ended.length === 2 ? "" : ` ${ended[0]} the lines`;
  return `line pairs per mm${ended.length === 0 ? "" : `; the pitch ends the detail${where} with more contrast left`}`;
}

export const detailFacts = factGroup("Detail", ({ report }) => report, [
  ["Half the contrast left", ({ detail }) => limit(detail, "at50"), "line pairs per mm"],
  ["A tenth left", ({ detail }) => limit(detail, "at10"), tenthWords],
  ["The picture's own limit", ({ detail }) => detail.photoLpPerMm.toFixed(1), "line pairs per mm"],
  [
    "Firing lag, half left",
    ({ detail }) => detail.alongLimits.firingLpPerMm?.toFixed(1),
    ({ detail: { alongLimits }, units }) =>
      `line pairs per mm along the lines; not the limit up to ${speedLimitWords(alongLimits.firingFreeUpToMmPerS ?? 0, units)}`,
  ],
  [
    "Firing loss",
    ({ detail: { alongLimits } }) =>
      alongLimits.firingLossMm === undefined ? undefined : mmWords(alongLimits.firingLossMm),
    ({ detail: { alongLimits } }) => `along the lines ${lossWords(alongLimits.firingLossMm ?? 0)}`,
  ],
  ["Limited by", ({ detail }) => detail.limitedBy, ({ detail }) => limitWords[detail.limitedBy]],
]);

const machineOf = ({ report, settings, reader }: FactSource) => ({
  ...report.runTime,
  ...settings,
  ...settings.motion,
  isRound: report.job.around !== undefined,
  assumed: report.job.assumed,
  reader,
});

/** Small print that calls a default an assumption. */
const assumption = (option: string, { assumed, reader }: ReturnType<typeof machineOf>): string | undefined =>
  assumed.includes(option) ? `assumed: ${reader.option(option)} was not given` : undefined;

export const machineFacts = factGroup("Machine", machineOf, [
  ["Run time", ({ seconds }) => durationWords(seconds), "an estimate: burned spans, run-up and steps"],
  ["Lines", ({ lines }) => String(lines)],
  ["Blank lines skipped", ({ blankLines }) => (blankLines > 0 ? String(blankLines) : undefined)],
  ["Beam on", ({ beamOnSeconds }) => durationWords(beamOnSeconds)],
  [
    "Speed",
    ({ speedMmPerS, oneWay, reader }) =>
      `${speedWords(speedMmPerS, reader.units)}, ${oneWay ? "one way" : "both ways"}`,
    (machine) => assumption("speedMmPerS", machine),
  ],
  [
    "Quickest speed",
    ({ quickestSpeedMmPerS, reader }) =>
      quickestSpeedMmPerS > 0 ? speedWords(Number(digits(quickestSpeedMmPerS)), reader.units) : undefined,
    "for these lines; beyond it run-up costs more than it saves",
  ],
  [
    "Acceleration",
    ({ accelerationMmPerS2, reader }) => accelerationWords(accelerationMmPerS2, reader.units),
    (machine) =>
      [
        assumption("accelerationMmPerS2", machine),
        machine.isRound && "of the turning surface; a rotary axis often has less",
      ]
        .filter(Boolean)
        .join("; ") || undefined,
  ],
  ["Time for a step", ({ stepTimeS }) => (stepTimeS > 0 ? `${digits(stepTimeS)} s` : undefined)],
  ["Firing lag", ({ firingLagUs }) => (firingLagUs > 0 ? `${digits(firingLagUs)} µs` : undefined)],
  ["Firing loss", ({ firingLossUs }) => (firingLossUs === 0 ? undefined : `${digits(firingLossUs)} µs`)],
  ["Line shift", ({ lineShiftMm }) => (lineShiftMm === 0 ? undefined : mmWords(lineShiftMm))],
]);
