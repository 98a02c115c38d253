import { mmWords, percentWords } from "../../../core/words.js";
import type { Report } from "../../report.js";
import {
  EXPECTED_MEANS,
  spreadInWords,
  TONE_SHIFT_MEANS,
  UNEVENNESS_MEANS,
} from "../../words/variation-words.js";
import { alongAcross, digits, factGroup, lightnessError } from "./fact-group.js";

const mmDigits = (mm: number): string => `${mm.toFixed(3)} mm`;

const lengthWords = ({ lengthMm }: { readonly lengthMm: number }, what: string): string =>
  lengthMm < 0.05 ? `none is ${what}` : `${lengthMm.toFixed(1)} mm in length are ${what}`;

/** Facts about a drawing whose edges were placed. */
export const edgeFacts = factGroup("Edges", ({ report }) => report.edges, [
  [
    "Marks grow by",
    ({ growthAlongMm, growthAcrossMm }) => alongAcross(mmDigits(growthAlongMm), mmDigits(growthAcrossMm)),
    "past the pixels that burn; edges were moved inwards by as much",
  ],
  [
    "Tolerance of straight edges",
    ({ toleranceMm }) => `±${mmDigits(toleranceMm)}`,
    ({ smoothFromMm }) =>
      `on average over their length; edges look smooth from ${Math.round(smoothFromMm / 10)} cm on`,
  ],
  [
    "Thinnest stroke",
    ({ thinnestMarkMm }) => mmDigits(thinnestMarkMm),
    ({ thinStrokes }) => lengthWords(thinStrokes, "thinner and kept"),
  ],
  [
    "Narrowest open gap",
    ({ closingGapMm }) => mmDigits(closingGapMm),
    ({ closingGaps }) => lengthWords(closingGaps, "narrower and closing"),
  ],
]);

/** What unevenness means, and how much of it comes from the machine. */
function unevennessNote({ variation }: NonNullable<Report["prediction"]>): string {
  const { local, line, spot } = variation;
  const [blotches, streaks, focus] = [local, line, spot].map((part) => lightnessError(part.unevenness));
  return `${UNEVENNESS_MEANS}. Blotches add ${blotches}, streaks ${streaks}, a spot that varies ${focus}; squares add`;
}

export const predictionFacts = factGroup(
  "Prediction",
  ({ report: { prediction, job } }) => prediction && { ...job, ...prediction },
  [
    [
      "Range of tones",
      ({ darkestLuminance, lightestLuminance }) =>
        `${digits(darkestLuminance)} to ${digits(lightestLuminance)}`,
      "luminance factors that the job can reach",
    ],
    [
      "Visual error",
      ({ visualErrorRms }) => lightnessError(visualErrorRms),
      "with dose and spot as set: rms against the photo; 1 is just noticeable",
    ],
    ["Mean error", ({ visualErrorBias }) => lightnessError(visualErrorBias), "above 0: lighter than wanted"],
    ["Unevenness", ({ unevenness }) => lightnessError(unevenness), unevennessNote],
    ["Tone shift", ({ toneShift }) => lightnessError(toneShift), TONE_SHIFT_MEANS],
    [
      "Expected error",
      ({ expectedVisualError }) => lightnessError(expectedVisualError),
      `on a machine that varies: ${EXPECTED_MEANS}`,
    ],
    ["Variation of the machine", ({ spread }) => spreadInWords(spread), "standard deviations"],
    [
      "Error uncompensated",
      ({ uncompensatedVisualErrorRms }) => lightnessError(uncompensatedVisualErrorRms),
      "of the same job without compensation",
    ],
    [
      "Measured on",
      ({ judgedShare }) => (judgedShare < 1 ? percentWords(judgedShare) : "all pixels"),
      ({ judgedShare, visualErrorRmsStandardError }) =>
        judgedShare < 1 ? `a sample: ±${lightnessError(visualErrorRmsStandardError)}` : undefined,
    ],
    ["Viewing distance", ({ viewDistanceMm }) => mmWords(viewDistanceMm)],
  ],
);
