import { describe, expect, it } from "vitest";
import type { Report, ReportAround, WarningCode } from "../../../src/6-report/report.js";
import {
  type ScreenFacts,
  type WarningFacts,
  warningRules,
  warningsFor,
} from "../../../src/6-report/words/warnings.js";
import { fidelityWith, job, piece, predicted, steady, wood } from "./flawless-piece.js";

const noBareDose = { material: "driftwood", doubt: "no-bare-dose", firstDose: 0.1 } as const;
const noSolidDose = { material: "driftwood", doubt: "no-solid-dose", lastDose: 0.8 } as const;

const beyond = (lightness: number) => ({ lastDose: 1, peakDose: 1.6, lightness });

/** What differs from the piece that has nothing wrong. */
type Case = readonly [changes: Partial<Report>, facts?: Partial<WarningFacts>];

/** Two pieces on either side of one limit: the first gets the warning and no other, the second does not get it. */
type Pair = readonly [given: Case, withheld: Case];

const codesOf = ([changes, facts = {}]: Case): WarningCode[] =>
  warningsFor({ ...piece, ...changes }, { ...wood, ...facts }).map(({ code }) => code);

const ofJob = (changes: Partial<Report["job"]>) => ({ job: { ...job, ...changes } });
const textOf = (heightMm: number) => ({ text: { words: "Ada", heightMm } });
const solid = ofJob({ kind: "solid", method: "none" });
const ofCoverage = (changes: Partial<Report["coverage"]>) => ({
  coverage: { ...piece.coverage, ...changes },
});
const ofDetail = (changes: Partial<Report["detail"]>) => ({ detail: { ...piece.detail, ...changes } });
const photo = (photoLpPerMm: number) => ofDetail({ photoLpPerMm });

const errors = (visualErrorRms: number): Partial<Report> => ({ prediction: predicted({ visualErrorRms }) });

/** A tone shift, and what the dose of the whole piece adds to it. */
const shifted = (toneShift: number, common: number): Partial<Report> => ({
  prediction: predicted({
    toneShift,
    variation: { ...steady, common: { unevenness: 0, toneShift: common } },
  }),
});

/** Unevenness of the piece as set, and what the parts of the variation add to it: squares add. */
function uneven(nominal: number, parts: Readonly<Record<string, number>>): Partial<Report> {
  const added = Object.entries(parts).map(([part, unevenness]) => [part, { unevenness, toneShift: 0 }]);
  const variation = { ...steady, ...Object.fromEntries(added) };
  const unevenness = Math.hypot(nominal, ...Object.values(parts));
  return { prediction: predicted({ unevenness, variation }) };
}

function drawn(changes: Partial<NonNullable<Report["edges"]>>, sides: Partial<Report["job"]> = {}) {
  const edges: NonNullable<Report["edges"]> = {
    growthAlongMm: 0.013,
    growthAcrossMm: 0.012,
    toleranceMm: 0.004,
    smoothFromMm: 200,
    thinnestMarkMm: 0.067,
    closingGapMm: 0.076,
    thinStrokes: { lengthMm: 0, thinnestMm: 0 },
    closingGaps: { lengthMm: 0, thinnestMm: 0 },
    between: 0,
    ...changes,
  };
  return { ...ofJob({ kind: "solid", method: "none", ...sides }), edges };
}
const strokes = (lengthMm: number) => ({ thinStrokes: { lengthMm, thinnestMm: 0.02 } });
const gaps = (lengthMm: number) => ({ closingGaps: { lengthMm, thinnestMm: 0.02 } });
const search = { aim: "nominal", start: "dose-feedback", passes: 4, lastChanged: 0, settled: true } as const;
const small = { widthMm: 8, heightMm: 4 };

const cylinder: ReportAround = { topDiameterMm: 40, bottomDiameterMm: 40, circumferenceMm: 125.66 };
const placed = (angleDeg: number, turnDeg: number) =>
  ofJob({
    around: {
      ...cylinder,
      placed: {
        ...{ angleDeg, turnDeg, startAngleDeg: 0, startAlongMm: 0 },
        ...{ pictureWidthMm: 28, pictureHeightMm: 20 },
      },
    },
  });
const seam = (stepLightness: number, usualStepLightness: number) =>
  ofJob({ around: { ...cylinder, seam: { stepLightness, usualStepLightness } } });

function cone(bottomDiameterMm: number, least: number, most: number, doseSpread = 0.1) {
  const shape: NonNullable<ReportAround["cone"]> = {
    layout: "level",
    slantHeightMm: 50,
    axialHeightMm: 49,
    halfAngleDeg: 4,
    sectorAngleDeg: 25,
    sectorInnerRadiusMm: 200,
    sectorOuterRadiusMm: 250,
    pitchAlongMm: { least: 0.09, most: 0.11 },
    overdriveAlong: { least: 1, most: 1.2 },
    doseFactor: { least, most },
  };
  return ofJob({ doseSpread, around: { ...cylinder, bottomDiameterMm, cone: shape } });
}

interface LevelTones {
  readonly fine: number;
  readonly coarse: number;
}

/** On and off hold ten tones in either detail. */
function levels({ fine, coarse }: LevelTones, method = "stucki", largestStepLightness = 4): Partial<Report> {
  const tones = { addressable: 99, nominal: 20 };
  return {
    ...ofJob({ levels: 16, method }),
    tonalResolution: [
      { ...tones, detailMm: 0.25, held: fine },
      { ...tones, detailMm: 1, held: coarse },
    ],
    powerLevels: {
      beamOnFraction: 0.9,
      largestStepLightness,
      largestStepShare: 0.1,
      largestSwingLightness: 9,
      onOff: [0.25, 1].map((detailMm) => ({ detailMm, nominal: 20, held: 10 })),
    },
  };
}
const dots = (changes: Partial<ScreenFacts>): Partial<WarningFacts> => ({
  screen: {
    ...{ askedLinesPerInch: 127, usualLinesPerInch: 127, fittingLinesPerInch: 127 },
    ...{ cellPx: 16, periodSpots: 2, isDispersed: false },
    ...changes,
  },
});
const manyTones = { fine: 20, coarse: 20 };

/** The spot carries 7 line pairs per mm along the lines, the pitch 10. */
function firing(photoLpPerMm: number, limitedBy: "firing" | "spot", answersLate = true) {
  const alongLimits = {
    ...piece.detail.alongLimits,
    limitedBy,
    ...(answersLate && { firingLpPerMm: 5.5, firingFreeUpToMmPerS: 184 }),
  };
  return ofDetail({ photoLpPerMm, alongLimits });
}

const losing = (px: number) =>
  ofDetail({ alongLimits: { ...piece.detail.alongLimits, firingLossMm: px * piece.job.pitchAlongMm } });

const finePitch = ofDetail({ alongLimits: { spotLpPerMm: 7, pitchLpPerMm: 5, limitedBy: "pitch" } });
const slow = (quickestSpeedMmPerS: number) => ({ runTime: { ...piece.runTime, quickestSpeedMmPerS } });
const toned = (darkest255: number, lightest255: number) => ({
  tone: { darkest255, lightest255, lift: 0, liftAutomatic: true },
});
/** A finding of triage; an even picture is told to be even, and nothing else. */
const triaged = (code: string, data: object = {}): readonly Pair[] => [
  [
    [{}, { findings: [{ code, data }] }],
    [{}, { findings: [{ code: "ANOTHER", data }] }],
  ],
  [
    [{}, { findings: [{ code, data }] }],
    [distinct(0), { findings: [{ code, data }] }],
  ],
];
/** A photo that loses a share of itself in light tones. */
const losingTones = (lostShare: number, distinctShare = 1): Partial<Report> => ({
  fidelity: fidelityWith({
    ...{ lostShare, distinctShare },
    lost: { levels: lostShare, bare: 0, solid: 0, faint: 0, colours: 0 },
  }),
});
const distinct = (distinctShare: number): Partial<Report> => ({ fidelity: fidelityWith({ distinctShare }) });
const shown = (shownShare: number) => ({ input: { ...piece.input, shownShare } });

/**
 * Every limit of every warning. The limits are decisions of the product, said in what a warning tells, and stand here as
 * figures of their own; where one follows from a formula, the formula stands beside it.
 */
const pairs: Readonly<Record<WarningCode, readonly Pair[]>> = {
  "photo-damaged": [
    [
      [{}, { looksDamaged: true }],
      [{}, { looksDamaged: false }],
    ],
  ],
  "few-tones": [
    [[toned(0, 63.9)], [toned(0, 64)]],
    [[toned(192, 255)], [toned(191, 255)]],
    // Fewer than eight steps are nothing to stretch.
    [[toned(100, 108)], [toned(100, 107.9)]],
    [[toned(0, 33)], [{ tone: { lift: 0, liftAutomatic: false } }]],
    [[toned(0, 33)], [{}]],
  ],
  "nothing-burns": [
    [[ofCoverage({ burnFraction: 0 })], [ofCoverage({ burnFraction: 1e-6 })]],
    [
      [ofCoverage({ burnFraction: 0 }), { darkens: false }],
      [ofCoverage({ burnFraction: 1e-6 }), { darkens: false }],
    ],
  ],
  "nothing-to-see": [
    [[distinct(0.0009)], [distinct(0.001)]],
    [[distinct(0)], [distinct(0), { hasTransparency: true }]],
    [[distinct(0)], [{ ...distinct(0), ...ofJob({ kind: "solid", method: "none" }) }]],
  ],
  "distinctions-lost": [
    [[losingTones(0.05)], [losingTones(0.049)]],
    // A quarter of what the picture shows, but no specks.
    [[losingTones(0.02, 0.08)], [losingTones(0.02, 0.081)]],
    [[losingTones(0.005, 0.02)], [losingTones(0.0049, 0.01)]],
  ],
  "photo-dithered": triaged("ALREADY_DITHERED"),
  "photo-blurred": triaged("BLURRED", { grade: "note", blurMm: 0.4, blurSpots: 4 }),
  "photo-grainy": triaged("GRAINY", { grade: "note", drowned: false }),
  "photo-low-contrast": triaged("LOW_CONTRAST", { grade: "note" }),
  "photo-blocks": triaged("BLOCKS", { grade: "note" }),
  "photo-stretched": triaged("STRETCHED", { grade: "note" }),
  "photo-clipped-shadows": triaged("CLIPPED_SHADOWS", { share: 0.1 }),
  "photo-clipped-highlights": triaged("CLIPPED_HIGHLIGHTS", { share: 0.1 }),
  "photo-screenshot": triaged("SCREENSHOT"),
  "photo-text": triaged("TEXT_NOT_OUTLINED"),
  "photo-pages": triaged("MANY_PAGES", { pages: 3 }),
  "colours-merge": [
    [
      [{}, { mergedColours: [{ colours: ["#3b8a3b", "#d22f2f"], share: 0.2 }] }],
      [{}, { mergedColours: [] }],
    ],
  ],
  "mostly-burned": [
    [
      [ofCoverage({ burnFraction: 0.501 }), { darkens: false }],
      [ofCoverage({ burnFraction: 0.5 }), { darkens: false }],
    ],
    [
      [ofCoverage({ burnFraction: 1 }), { darkens: false }],
      [ofCoverage({ burnFraction: 1 }), { darkens: true }],
    ],
  ],
  "taken-for-artwork": [
    [
      [ofJob({ kind: "solid", method: "none", kindGuessed: true })],
      [ofJob({ kind: "solid", method: "none", kindGuessed: false })],
    ],
    [
      [ofJob({ kind: "solid", method: "none", kindGuessed: true })],
      [ofJob({ kind: "photo", kindGuessed: true })],
    ],
  ],
  "looks-like-artwork": [
    [
      [{}, { looksLikeArtwork: true }],
      [{}, { looksLikeArtwork: false }],
    ],
  ],
  "negative-idle": [
    [
      [{}, { negativeIdle: true }],
      [{}, { negativeIdle: false }],
    ],
  ],
  "negative-photo": [
    [[ofJob({ negative: true })], [{}]],
    [[ofJob({ negative: true })], [{ job: { ...solid.job, negative: true } }]],
    [[ofJob({ negative: true })], [ofJob({ negative: true }), { severalInks: true }]],
    [[ofJob({ negative: true })], [ofJob({ negative: true }), { looksLikeArtwork: true }]],
  ],
  "much-cut-off": [[[shown(0.599)], [shown(0.6)]]],
  "ragged-edges": [[[drawn({ smoothFromMm: 601 })], [drawn({ smoothFromMm: 600 })]]],
  // A millimetre, or a twentieth of the sum of both sides if that is less: 0.05 · 12 = 0.6 mm.
  "thin-strokes": [
    [[drawn(strokes(1))], [drawn(strokes(0.999))]],
    [[drawn(strokes(0.601), small)], [drawn(strokes(0.599), small)]],
  ],
  // Ten spots of 0.1 mm, or ten lines if these are wider apart.
  "text-small": [
    [[ofJob(textOf(0.999))], [ofJob(textOf(1))]],
    [[ofJob({ ...textOf(1.999), pitchAcrossMm: 0.2 })], [ofJob({ ...textOf(2), pitchAcrossMm: 0.2 })]],
    [[ofJob(textOf(0.5))], [{}]],
  ],
  "closing-gaps": [
    [[drawn(gaps(1))], [drawn(gaps(0.999))]],
    [[drawn(gaps(0.601), small)], [drawn(gaps(0.599), small)]],
  ],
  "grey-areas": [[[drawn({ between: 0.201 })], [drawn({ between: 0.2 })]]],
  "not-as-drawn": [
    [[{ ...drawn({}), ...errors(1.51) }], [{ ...drawn({}), ...errors(1.5) }]],
    [[{ ...drawn({}), ...errors(1.51) }], [{ ...solid, ...errors(1.51) }]],
  ],
  "spot-large": [
    [[ofJob({ spotAlongMm: 0.501 })], [ofJob({ spotAlongMm: 0.5 })]],
    [[ofJob({ spotAcrossMm: 0.501 })], [ofJob({ spotAcrossMm: 0.5 })]],
  ],
  "power-too-weak": [
    [
      [{ power: { ...piece.power, percent: 101, fullPowerSpeedMmPerS: 297 } }],
      [{ power: { ...piece.power, percent: 100 } }],
    ],
  ],
  "power-very-low": [
    [[{ power: { ...piece.power, percent: 4.99 } }], [{ power: { ...piece.power, percent: 5 } }]],
    [[{ power: { ...piece.power, percent: 4.99 } }], [{}]],
  ],
  "line-gaps": [[[ofCoverage({ gapMm: 0.001 })], [ofCoverage({ gapMm: 0 })]]],
  "char-risk": [
    [
      [ofCoverage({ peakDose: 1.2 }), { charDose: 1.2 }],
      [ofCoverage({ peakDose: 1.199 }), { charDose: 1.2 }],
    ],
    [
      [ofCoverage({ peakDose: 9 }), { charDose: 1.2 }],
      [ofCoverage({ peakDose: 9 }), { charDose: undefined }],
    ],
    // A solid fill has dose 1, however little its lines stick out.
    [
      [ofCoverage({ peakDose: 0.9 }), { charDose: 1 }],
      [ofCoverage({ peakDose: 0.9 }), { charDose: 1.001 }],
    ],
  ],
  "response-extrapolated": [
    // On a measured material.
    [
      [{}, { extrapolation: beyond(0.31) }],
      [{}, { extrapolation: beyond(0.3) }],
    ],
    [
      [{}, { extrapolation: { ...beyond(2), share: 0.001 } }],
      [{}, { extrapolation: { ...beyond(2), share: 0.0009 } }],
    ],
    [
      [{}, { extrapolation: beyond(1.01) }],
      [{}, { extrapolation: undefined }],
    ],
  ],
  // Spots of 0.1 mm that touch carry 1/(2 · 0.1) = 5 line pairs per mm, of which the photo should have 0.6: 3.
  "photo-coarse-for-size": [
    [[photo(2.99)], [photo(3.01)]],
    [[{ ...solid, ...photo(2.99) }], [{ ...solid, ...photo(3.01) }]],
    // If the lines carry less, 4 across or 4 along, less is enough: 2.4.
    ...(["acrossLpPerMm", "alongLpPerMm"] as const).map((way): Pair => {
      const coarse = { [way]: { at50: 3, at10: 4 } };
      return [[ofDetail({ ...coarse, photoLpPerMm: 2.39 })], [ofDetail({ ...coarse, photoLpPerMm: 2.41 })]];
    }),
  ],
  // 9 line pairs per mm along the lines: 0.6 · 9 = 5.4. The default for a spot of 0.1 mm is 1.87 times the matched 254 at this tone range: 475.
  "photo-coarser-than-density": [
    [
      [{ ...photo(5.39), ...ofJob({ linesPerInch: 476 }) }, { toneRange: 1.261 }],
      [{ ...photo(5.41), ...ofJob({ linesPerInch: 476 }) }, { toneRange: 1.261 }],
    ],
    [
      [{ ...photo(5.39), ...ofJob({ linesPerInch: 476 }) }, { toneRange: 1.261 }],
      [{ ...photo(5.39), ...ofJob({ linesPerInch: 475 }) }, { toneRange: 1.261 }],
    ],
    [
      [{ ...photo(5.39), ...ofJob({ linesPerInch: 476 }) }, { toneRange: 1.261 }],
      [
        { ...photo(5.39), ...ofJob({ linesPerInch: 476, kind: "solid", method: "none" }) },
        { toneRange: 1.261 },
      ],
    ],
  ],
  // The default at this tone range is 1.2 times the matched 254, 305 lines per inch; 1.3 times that is 396.5.
  "steep-at-overdrive": [
    [
      [ofJob({ linesPerInch: 397 }), { materialShape: "steep", toneRange: 0.546 }],
      [ofJob({ linesPerInch: 396 }), { materialShape: "steep", toneRange: 0.546 }],
    ],
    [
      [ofJob({ linesPerInch: 397 }), { materialShape: "steep", toneRange: 0.546 }],
      [ofJob({ linesPerInch: 2286 }), { materialShape: "gradual", toneRange: 1.5 }],
    ],
    [
      [ofJob({ linesPerInch: 397 }), { materialShape: "steep", toneRange: 0.546 }],
      [
        ofJob({ linesPerInch: 397, kind: "solid", method: "none" }),
        { materialShape: "steep", toneRange: 0.546 },
      ],
    ],
  ],
  "dose-sensitive": [
    [[shifted(3.01, 3)], [shifted(3, 3)]],
    // Half of the squared shift: 4/√2 = 2.828.
    [[{ ...solid, ...shifted(4, 2.83) }], [{ ...solid, ...shifted(4, 2.82) }]],
  ],
  "uneven-dose": [
    [[uneven(0.3, { local: 1.51 })], [uneven(0.3, { local: 1.5 })]],
    // √(0.9² + 0.8² + 0.92²) = 1.515, √(0.9² + 0.8² + 0.88²) = 1.491.
    [
      [uneven(0.3, { local: 0.9, line: 0.8, spot: 0.92 })],
      [uneven(0.3, { local: 0.9, line: 0.8, spot: 0.88 })],
    ],
    [[uneven(1.99, { line: 2 })], [uneven(2.01, { line: 2 })]],
    // The dose of the whole piece is no cause, and does not count as grain of the piece either.
    [[uneven(0.3, { spot: 1.6, common: 3 })], [uneven(0.3, { spot: 1.4, common: 3 })]],
  ],
  "visible-grain": [
    [[errors(1.01)], [errors(1)]],
    [[errors(1.01)], [{ ...solid, ...errors(1.01) }]],
    [[errors(1.01)], [{ ...ofJob({ compensated: false }), ...errors(1.01) }]],
  ],
  "firing-blurs": [
    [[firing(5.51, "firing")], [firing(5.5, "firing")]],
    [[firing(5.51, "firing")], [firing(5.51, "spot")]],
    [[firing(5.51, "firing")], [firing(5.51, "firing", false)]],
  ],
  // A tenth of a pixel.
  "bursts-shortened": [
    [[losing(0.1001)], [losing(0.0999)]],
    [[losing(-0.1001)], [losing(-0.0999)]],
    [[losing(0.5)], [{ ...losing(0.5), ...ofJob({ kind: "solid" }) }]],
  ],
  // Half the contrast is gone at 1/(3Δ): 7 line pairs per mm at 0.04762 mm, 5 at 0.06667 mm.
  "lines-shifted": [
    [
      [{}, { lineShiftMm: 0.0477 }],
      [{}, { lineShiftMm: 0.0476 }],
    ],
    [
      [{}, { lineShiftMm: -0.0477 }],
      [{}, { lineShiftMm: -0.0476 }],
    ],
    [
      [finePitch, { lineShiftMm: 0.0667 }],
      [finePitch, { lineShiftMm: 0.0666 }],
    ],
    [
      [{}, { lineShiftMm: 0.15 }],
      [solid, { lineShiftMm: 0.15 }],
    ],
  ],
  "run-up-dominates": [
    [
      [slow(400), { speedMmPerS: 401, savedAtQuickestSpeed: 0.051 }],
      [slow(400), { speedMmPerS: 401, savedAtQuickestSpeed: 0.05 }],
    ],
    [
      [slow(400), { speedMmPerS: 401, savedAtQuickestSpeed: 0.5 }],
      [slow(400), { speedMmPerS: 400, savedAtQuickestSpeed: 0.5 }],
    ],
    // Nothing burns, so no speed is the quickest.
    [
      [slow(1), { speedMmPerS: 401, savedAtQuickestSpeed: 0.5 }],
      [slow(0), { speedMmPerS: 401, savedAtQuickestSpeed: 0.5 }],
    ],
  ],
  // The screen's dots fall apart, or their period is below 1.5 spots.
  "screen-too-fine": [
    [
      [{}, dots({ isDispersed: true })],
      [{}, dots({ isDispersed: false })],
    ],
    [
      [{}, dots({ periodSpots: 1.49 })],
      [{}, dots({ periodSpots: 1.5 })],
    ],
    [
      [{}, dots({ periodSpots: 1.49 })],
      [solid, dots({ periodSpots: 1.49 })],
    ],
  ],
  "method-drops-tone": [
    [
      [{}, { methodKeepsMean: false }],
      [{}, { methodKeepsMean: true }],
    ],
    [
      [{}, { methodKeepsMean: false }],
      [solid, { methodKeepsMean: false }],
    ],
  ],
  // A tenth more than 10 tones, in the geometric mean of both details: √(11 · 11), √(22 · 5.5).
  "levels-no-gain": [
    [[levels({ fine: 10.99, coarse: 11 })], [levels({ fine: 11.01, coarse: 11 })]],
    [[levels({ fine: 22, coarse: 5.49 })], [levels({ fine: 22, coarse: 5.51 })]],
    [
      [levels({ fine: 9, coarse: 9 })],
      [{ ...ofJob({ levels: 2 }), tonalResolution: levels({ fine: 9, coarse: 9 }).tonalResolution ?? [] }],
    ],
  ],
  "levels-band": [
    [[levels(manyTones, "threshold", 1.01)], [levels(manyTones, "threshold", 1)]],
    [[levels(manyTones, "threshold", 1.01)], [levels(manyTones, "stucki", 1.01)]],
  ],
  // Half of 80° on either side; a picture whose middle is the mark is meant to lie on it.
  "picture-over-mark": [
    [[placed(39.9, 80)], [placed(40, 80)]],
    [[placed(320.1, 80)], [placed(320, 80)]],
    [[placed(1, 80)], [placed(0, 80)]],
  ],
  "seam-shows": [
    [[seam(3.01, 1)], [seam(3, 1)]],
    [[seam(10.01, 5)], [seam(10, 5)]],
    [[seam(10.01, 5)], [ofJob({ around: cylinder })]],
  ],
  // The radius changes by 1.5 mm from end to end, whichever end is the wider.
  "cone-slope": [
    [[cone(43.01, 1, 1)], [cone(43, 1, 1)]],
    [[cone(36.99, 1, 1)], [cone(37, 1, 1)]],
  ],
  "cone-dose": [
    [[cone(42, 0.95, 1.101)], [cone(42, 0.95, 1.099)]],
    [[cone(42, 0.899, 1.05)], [cone(42, 0.901, 1.05)]],
    [[cone(42, 0.95, 1.101)], [cone(42, 0.95, 1.101, 0.102)]],
  ],
  "not-searched": [
    [[ofJob({ search: { ...search, passes: 0 } })], [ofJob({ search: { ...search, passes: 1 } })]],
  ],
  uncompensated: [
    [[ofJob({ compensated: false })], [ofJob({ compensated: true })]],
    [
      [ofJob({ kind: "solid", method: "threshold", compensated: false })],
      [ofJob({ kind: "solid", method: "none", compensated: true })],
    ],
  ],
  "option-idle": [
    [
      [{}, { idleOptions: [{ option: "seed", need: "seed" }] }],
      [{}, { idleOptions: [] }],
    ],
  ],
  "material-illustrative": [
    [[ofJob({ materialSource: "illustrative: assumed" })], [ofJob({ materialSource: "measured" })]],
    [[ofJob({ materialSource: "Illustrative" })], [ofJob({ materialSource: "not illustrative" })]],
  ],
  "material-not-measured-here": [
    [[ofJob({ materialSource: "a paper on boats" })], [ofJob({ materialSource: "measured on a scrap" })]],
    [[ofJob({ materialSource: "unmeasured" })], [ofJob({ materialSource: "illustrative" })]],
  ],
  "material-doubtful": [
    [
      [{}, { materialDoubts: [noBareDose] }],
      [{}, { materialDoubts: [] }],
    ],
  ],
};

const entries = Object.entries(pairs) as [WarningCode, readonly Pair[]][];
const flat = entries.flatMap(([code, own]) =>
  own.map(([given, withheld], limit) => ({ code, limit: limit + 1, given, withheld })),
);

it("every warning has a case here", () => {
  expect(Object.keys(pairs).sort()).toEqual(Object.keys(warningRules).sort());
  expect(entries.filter(([, own]) => own.length === 0)).toEqual([]);
});

describe("on one side of its limit and on the other", () => {
  it.each(flat)("$code (limit $limit)", ({ code, given, withheld }) => {
    expect(codesOf(given)).toEqual([code]);
    expect(codesOf(withheld)).not.toContain(code);
  });

  it("every doubt about a material is given", () => {
    expect(codesOf([{}, { materialDoubts: [noBareDose, noSolidDose] }])).toEqual([
      "material-doubtful",
      "material-doubtful",
    ]);
  });
});
