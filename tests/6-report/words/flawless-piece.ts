import type { Report } from "../../../src/6-report/report.js";
import type { WarningFacts } from "../../../src/6-report/words/warnings.js";
import { METRIC } from "../../../src/core/shown-units.js";

/** A piece that calls for no warning: a measured gradual material at the density taken by default. */
export const job: Report["job"] = {
  kind: "photo",
  kindGuessed: false,
  method: "floyd-steinberg",
  levels: 2,
  scan: "serpentine",
  seed: 1,
  toneMap: "lightness",
  compensated: true,
  autoTone: true,
  mirror: false,
  negative: false,
  widthMm: 80,
  heightMm: 60,
  columns: 1600,
  rows: 1200,
  pitchAlongMm: 0.05,
  pitchAcrossMm: 0.05,
  linesPerInch: 508,
  passes: 1,
  spotAlongMm: 0.1,
  spotAcrossMm: 0.1,
  overdrive: 2,
  matchedLinesPerInch: 254,
  material: "driftwood",
  materialSource: "measured 2026-05-01",
  doseSpread: 0.1,
  spread: { common: 0.08, local: 0.04, localLengthMm: 2, line: 0.04, spot: 0.05 },
  variationModel: "four-part",
  viewDistanceMm: 300,
  assumed: [],
  viewLuminanceCdM2: 50,
};

const nothing = { unevenness: 0, toneShift: 0 };

/** What a machine adds that does not vary. */
export const steady: NonNullable<Report["prediction"]>["variation"] = {
  ...{ common: nothing, local: nothing, line: nothing, spot: nothing },
};

/** A prediction with these errors. */
export const predicted = (
  errors: Partial<NonNullable<Report["prediction"]>>,
): NonNullable<Report["prediction"]> => ({
  darkestLuminance: 0.05,
  lightestLuminance: 0.6,
  visualErrorRms: 0.3,
  visualErrorBias: 0,
  expectedVisualError: 0.3,
  unevenness: 0.3,
  toneShift: 0,
  variation: steady,
  uncompensatedVisualErrorRms: 9,
  judgedShare: 1,
  visualErrorRmsStandardError: 0,
  ...errors,
});

export const piece: Omit<Report, "warnings"> = {
  tool: { name: "spotpitch", version: "0" },
  units: METRIC,
  input: { file: "boat.jpg", widthPx: 1600, heightPx: 1200, effectivePxPerMm: 20, shownShare: 1 },
  job,
  coverage: {
    burnFraction: 0.4,
    gapMm: 0,
    overlap: 0.5,
    dotCoverage: 1,
    solidDoseFactor: 1,
    powerFactor: 1,
    levelsPerSpot: 4,
    ripple: 0.01,
    peakDose: 1.01,
    markWidthMm: 0.115,
    markGapMm: 0,
  },
  power: { speedMmPerS: 300, passes: 1, message: "to be found" },
  detail: {
    alongLpPerMm: { at50: 6, at10: 9 },
    acrossLpPerMm: { at50: 7, at10: 10 },
    photoLpPerMm: 10,
    limitedBy: "pitch",
    alongLimits: {
      spotLpPerMm: 7,
      pitchLpPerMm: 10,
      limitedBy: "spot",
    },
  },
  runTime: { seconds: 600, lines: 1200, blankLines: 0, beamOnSeconds: 200, quickestSpeedMmPerS: 400 },
  cautions: [],
};

/** The fidelity of a piece that loses nothing, changed. */
export const fidelityWith = (
  changes: Partial<NonNullable<Report["fidelity"]>>,
): NonNullable<Report["fidelity"]> => ({
  ...{ cellMm: 0.5, distinctShare: 0.8, lostShare: 0 },
  lost: { levels: 0, bare: 0, solid: 0, faint: 0, colours: 0 },
  ...changes,
});

/** The material and the machine of that piece. */
export const wood: WarningFacts = {
  materialDoubts: [],
  materialShape: "gradual",
  toneRange: 1.5,
  extrapolation: undefined,
  charDose: undefined,
  darkens: true,
  methodKeepsMean: true,
  looksLikeArtwork: false,
  severalInks: false,
  adjustsTones: false,
  hasTransparency: false,
  mergedColours: [],
  findings: [],
  looksDamaged: false,
  sourceBits: 8,
  negativeIdle: false,
  idleOptions: [],
  speedMmPerS: 300,
  firingLossUs: 0,
  lineShiftMm: 0,
  savedAtQuickestSpeed: 0.01,
};
