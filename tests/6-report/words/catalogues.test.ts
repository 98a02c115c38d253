import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { IdleFacts } from "../../../src/6-report/words/idle-option.js";
import { sayMatter } from "../../../src/6-report/words/matter.js";
import { type Change, changedBy, sayChange } from "../../../src/6-report/words/plan-changes.js";
import { type Note, noted, sayNote } from "../../../src/6-report/words/plan-notes.js";
import { because, type Reason, sayReason } from "../../../src/6-report/words/plan-reasons.js";
import { warningRules } from "../../../src/6-report/words/warnings.js";
import { commandReader } from "../../../src/cli/command-reader.js";
import { libraryReader, type Reader } from "../../../src/core/reader.js";
import type { DataOf } from "../../../src/core/told.js";
import { finding, type shopWords } from "../../../src/pipeline/triage/words.js";

type WarningData = { readonly [Code in keyof typeof warningRules]: readonly object[] };
const row = { linesPerInch: 254, seconds: 600 };
const holding = { ...row, held: 11.2 };
const counting = { ...row, useful: 11 };
const doubts = [
  { material: "slate", doubt: "colours-contradict", marksGrow: "lighter" },
  { material: "slate", doubt: "no-bare-dose", firstDose: 0.1 },
  { material: "slate", doubt: "no-solid-dose", lastDose: 0.8 },
  { material: "slate", doubt: "fills-not-reproduced", dose: 0.5, lightness: 8.1 },
  { material: "slate", doubt: "fills-may-ripple", dose: 0.5, lightness: 8.1, pitchMm: 0.1, spotMm: 0.1 },
  { material: "slate", doubt: "fills-without-pitch" },
] as const;
const weak = {
  ...{ speedMmPerS: 300, passes: 1, percent: 120, fullPowerSpeedMmPerS: 250 },
  enoughPasses: { passes: 2, percent: 60 },
} as const;
const char = { material: "maple", charDose: 1.2, peakDose: 1.4, where: "line centres" } as const;
const gaps = { gapMm: 0.02, spotMm: 0.1, pitchMm: 0.12, matchedLinesPerInch: 254 };
const screen = {
  ...{ askedLinesPerInch: 400, usualLinesPerInch: 127, fittingLinesPerInch: 100 },
  ...{ cellPx: 1.6, periodSpots: 0.6 },
};
const runUp = { speedMmPerS: 450, quickestMmPerS: 300 };
const levels = {
  ...{
    material: "slate",
    steep: true,
    levels: 16,
    part: "local",
    deviation: 0.04,
    stepShare: 0.8,
    swingLightness: 9,
  },
  details: [{ mm: 0.25, held: 11, before: 10 }],
} as const;
const uneven = {
  ...{ added: 2.1, nominal: 0.6, largest: "local", deviation: 0.04 },
  ...{ steadier: "clusters", usualLinesPerInch: 254 },
};
const grades = ["note", "ask"] as const;
const loss = {
  ...{ lostShare: 0.2, kind: "photo", autoTone: true, adjusted: false, keepsTones: true, material: "maple" },
  gapMm: 0,
  lost: { levels: 0, bare: 0, solid: 0, faint: 0, colours: 0 },
};
const varying = (["common", "local", "line"] as const).map((part) => ({ part, deviation: 0.04 }));
const cone = { least: 0.9, most: 1.2, doseSpread: 0.1, kind: "photo", compensated: true };

/** What goes into each warning, in every form that its words have. */
const idle: readonly IdleFacts[] = [
  ...(["scan", "seed", "clumping", "screen"] as const).flatMap((need) =>
    [{ method: "bayer-4" }, { method: "none" }, {}].map((method) => ({ option: "seed", need, ...method })),
  ),
  ...(["cone", "both-sizes", "cut-to-fit", "tones", "automatic-levels", "two-way"] as const).map((need) => ({
    ...{ option: "fit", need, method: "none" },
  })),
  ...(["optics", "defocus", "no-tones-asked"] as const).map((need) => ({
    option: "gain",
    need,
    method: "none",
  })),
];

const warnings: WarningData = {
  "option-idle": idle,
  "material-doubtful": doubts,
  "photo-damaged": [{}],
  "few-tones": [
    { darkest: 0, lightest: 33, steps: 34 },
    { darkest: 215, lightest: 255, steps: 41 },
    { darkest: 100, lightest: 140 },
  ],
  "picture-over-mark": [{ fromDeg: 350.8, toDeg: 69.2, halfDeg: 39.2 }],
  "nothing-burns": ["solid", "photo"].flatMap((kind) =>
    [true, false].map((darkens) => ({ kind, darkens, material: "maple" })),
  ),
  "taken-for-artwork": [{}],
  "looks-like-artwork": [{ severalInks: true }, { severalInks: false }],
  "negative-idle": [{}],
  "negative-photo": [{ material: "slate" }],
  "much-cut-off": [
    { hasFocus: true, takesFocus: true },
    { hasFocus: false, takesFocus: true },
    { hasFocus: false, takesFocus: false },
  ].map((focus) => ({ shownShare: 0.3, widthMm: 80, heightMm: 60, ...focus })),
  "ragged-edges": [{ smoothFromMm: 731, smoothLinesPerInch: 187 }],
  "nothing-to-see": [{}],
  "photo-dithered": [{}],
  "photo-blurred": grades.map((grade) => ({ grade, blurMm: 0.8, blurSpots: 8 })),
  "photo-grainy": [false, true].map((drowned) => ({ grade: "ask", drowned })),
  "photo-low-contrast": grades.map((grade) => ({ grade })),
  "photo-blocks": grades.map((grade) => ({ grade })),
  "photo-stretched": grades.map((grade) => ({ grade })),
  "photo-clipped-shadows": [{ share: 0.2 }],
  "photo-clipped-highlights": [{ share: 0.2 }],
  "photo-screenshot": [{}],
  "photo-text": [{}],
  "photo-pages": [{ pages: 3 }],
  "colours-merge": ["solid", "photo"].map((kind) => ({
    ...{ colours: ["#3b8a3b", "#d22f2f"], share: 0.2, kind },
  })),
  "distinctions-lost": [
    ...(["levels", "bare", "solid", "faint"] as const).flatMap((cause) => [
      { ...loss, lost: { ...loss.lost, [cause]: 0.2 } },
      { ...loss, kind: "solid", lost: { ...loss.lost, [cause]: 0.2 } },
    ]),
    { ...loss, adjusted: true, lost: { ...loss.lost, levels: 0.2, bare: 0.1 } },
    { ...loss, keepsTones: false, lost: { ...loss.lost, solid: 0.2 } },
    { ...loss, gapMm: 0.2, lost: { ...loss.lost, faint: 0.2 } },
    { ...loss, autoTone: false, lost: { ...loss.lost, levels: 0.2 } },
  ],
  "thin-strokes": [{ lengthMm: 12.3, thinnestMm: 0.02, markMm: 0.07 }],
  "text-small": [{ heightMm: 1.5, leastMm: 2 }],
  "closing-gaps": [{ lengthMm: 1230, thinnestMm: 0.02, closingMm: 0.07 }],
  "grey-areas": [{ between: 0.4 }],
  "not-as-drawn": [{ visualErrorRms: 1.6 }],
  "levels-no-gain": [
    levels,
    { ...levels, part: "line", steep: false, stepShare: 0.1, onOffMethod: "stucki" },
    { ...levels, deviation: 0 },
  ],
  "levels-band": [{ stepLightness: 1.2 }],
  "mostly-burned": ["solid", "photo"].map((kind) => ({
    ...{ burnFraction: 0.6, kind, inLevels: kind === "photo" },
  })),
  "spot-large": [{ spotMm: 0.8 }],
  "line-gaps": [gaps],
  "power-too-weak": [weak, { ...weak, passes: 2, enoughPasses: undefined }],
  "power-very-low": [1, 3].map((passes) => ({ ...weak, percent: 2, passes })),
  "seam-shows": [true, false].map((flatCone) => ({ stepLightness: 20, usualStepLightness: 5, flatCone })),
  "cone-slope": [{ halfAngleDeg: 4, heightMm: 50, radiusChangeMm: 3 }],
  "cone-dose": [cone, { ...cone, compensated: false }, { ...cone, kind: "solid" }],
  "response-extrapolated": [
    { material: "slate", isMeasured: false, lastDose: 1, peakDose: 1.6, lightness: 2.3 },
    { material: "mine", isMeasured: true, lastDose: 1, peakDose: 1.6, lightness: 0.4, share: 0.231 },
  ],
  "char-risk": [char, { ...char, where: "everywhere" }],
  "photo-coarse-for-size": [{ photoLpPerMm: 1.2, matchedLpPerMm: 5 }],
  "photo-coarser-than-density": [{ photoLpPerMm: 4, linesLpPerMm: 9, matchedLinesPerInch: 254 }],
  "firing-blurs": [{ speedMmPerS: 300, firingLpPerMm: 5.5, othersLpPerMm: 7, firingFreeUpToMmPerS: 183.7 }],
  "bursts-shortened": [
    { speedMmPerS: 300, firingLossUs: 33, lossPx: 0.2, slowerMmPerS: 151.5, smallDots: true },
    { speedMmPerS: 300, firingLossUs: -200, lossPx: -1.2, slowerMmPerS: 8.4, smallDots: false },
  ],
  "lines-shifted": [{ shiftMm: 0.15, halfLpPerMm: 2.2 }],
  "steep-at-overdrive": (["clusters", "robust-aim", undefined] as const).map((steadier) => ({
    ...{ overdrive: 2, usualLinesPerInch: 335, steadier },
  })),
  "dose-sensitive": [{ deviation: 0.08, shift: 3.4 }],
  "uneven-dose": [
    ...(["local", "line", "spot"] as const).map((largest) => ({ ...uneven, largest })),
    { ...uneven, steadier: "robust-aim" },
    { ...uneven, steadier: undefined, usualLinesPerInch: undefined },
  ],
  "visible-grain": [
    { viewDistanceMm: 300, visualErrorRms: 1.2 },
    { viewDistanceMm: 300, visualErrorRms: 1.2, ruling: 40, usualRuling: 127 },
  ],
  "not-searched": [{ start: "dose-feedback" }],
  uncompensated: [{ kind: "photo" }, { kind: "solid" }],
  "screen-too-fine": [
    { ...screen, isDispersed: true },
    { ...screen, isDispersed: false },
  ],
  "method-drops-tone": [{ method: "threshold" }],
  "run-up-dominates": [runUp],
  "material-illustrative": [{ material: "maple" }],
  "material-not-measured-here": [{ material: "slate", source: "a paper, 2018" }],
};

const reasons: readonly Reason[] = [
  because("lens-chosen", { kind: "photo", name: "50 mm", others: [{ name: "38 mm", ...counting }] }),
  because("lens-chosen", { kind: "strip", name: "50 mm", others: [{ name: "38 mm", ...row }] }),
  because("nothing-in-time", { ...row, minutes: 5 }),
  because("enough-tones", { ...holding, count: 10, detailMm: 0.25 }),
  because("too-few-tones", { ...holding, count: 20, detailMm: 0.25, minutes: 5 }),
  because("too-few-tones", { ...holding, count: 20, detailMm: 0.25 }),
  because("tones-with-more-time", holding),
  because("worth-its-time", {
    linesPerInch: 254,
    worthLinesPerInch: 255,
    gain: 0.1,
    isCapped: false,
  }),
  ...[true, false].map((isCapped) =>
    because("worth-its-time", {
      linesPerInch: 254,
      worthLinesPerInch: 300,
      gain: 0.1,
      isCapped,
    }),
  ),
  because("worth-its-time", {
    ...{ linesPerInch: 254, worthLinesPerInch: 300, gain: 0.1, isCapped: false },
    ...{ minutes: 5, chars: 250, beside: 260 },
  }),
  because("only-density", row),
  because("useful-tones", { useful: 11, seconds: 600 }),
  ...[true, false].flatMap((isNoticeable) =>
    [300, 900].map((seconds) =>
      because("least-error", {
        here: { linesPerInch: 254, seconds: 600, useful: 11, error: 1.5 },
        there: { linesPerInch: 508, seconds, useful: 9, error: 1.1 },
        isNoticeable,
      }),
    ),
  ),
  because("harms", { material: "maple", leavesGaps: true, charRisk: "none" }),
  because("harms", { material: "maple", leavesGaps: false, charRisk: "everywhere" }),
  because("harms", { material: "maple", leavesGaps: true, charRisk: "line centres" }),
  because("steep-overlap", { material: "slate", matched: 254, toneShift: 1.4 }),
  because("steep-material", { material: "slate", matched: 254 }),
  because("gradual-material", { material: "maple", matched: 254 }),
  ...(["measured", "threshold", "spot"] as const).map((from) =>
    because("lines-meet", {
      ...{ markMm: 0.1, from, referenceLinesPerInch: 254, meetLinesPerInch: 254 },
      ...{ margin: 0.05, neededLinesPerInch: 267 },
    }),
  ),
  because("none-overlaps", { linesPerInch: 254, gapMm: 0.02 }),
  because("none-overlaps", { linesPerInch: 254, gapMm: 0 }),
  because("lowest-with-overlap", { ...row, offered: true }),
  because("saves-against", { other: { linesPerInch: 800, seconds: 1800 }, chosen: row }),
  because("strip-late", { minutes: 5 }),
  because("tone-out-of-reach", { lightness: 40, linesPerInch: 254 }),
  because("tone-chars", {
    ...{ lightness: 40, material: "maple", charDose: 1.2, dose: 1.3, peakDose: 1.5, linesPerInch: 254 },
  }),
  because("tone-nearest", { ...row, lightness: 40 }),
  because("tone-nearest", { ...row, lightness: 40, minutes: 5 }),
  because("tone-quickest", { lightness: 40, linesPerInch: 254, knowsChar: true }),
  because("tone-dose", { dose: 0.8, peakDose: 0.9 }),
  because("tone-dose", { dose: 0.8, peakDose: 0.9, charDose: 1.2 }),
  because("power-to-set", {
    ...{ powerFactor: 0.8, referenceLinesPerInch: 254, jobSpeedMmPerS: 300 },
    ...{ seconds: 600, speedMmPerS: 375, secondsAtSpeed: 500 },
  }),
  because("lower-chars", { linesPerInch: 127 }),
];

const changes: readonly Change[] = [
  changedBy("more-time", { ...counting, allowed: true }),
  changedBy("more-time", { ...counting, allowed: false }),
  changedBy("no-more-time", {}),
  ...varying.map((cause) => changedBy("steadier-dose", { cause, nominal: 20, held: 12, detailMm: 0.25 })),
  changedBy("less-time", counting),
  changedBy("other-measure", { gain: 0.1 }),
  changedBy("char-dose-unknown", { material: "slate" }),
  changedBy("char-dose", { material: "slate", charDose: 1.2 }),
  changedBy("another-tone", { darkness: 0.5 }),
  changedBy("other-densities", {}),
  changedBy("mark-width", { here: { linesPerInch: 254, pitchMm: 0.1 } }),
  changedBy("mark-width", {
    here: { linesPerInch: 254, pitchMm: 0.1 },
    next: { linesPerInch: 508, pitchMm: 0.05 },
  }),
  changedBy("larger-margin", { margin: 0.15, linesPerInch: 292 }),
  changedBy("wider-spot", { spotMm: 0.1 }),
];

const fall = {
  best: { linesPerInch: 254, useful: 12 },
  worst: { linesPerInch: 508, useful: 8 },
};

const notes: readonly Note[] = [
  noted("solid-artwork", {}),
  ...[true, false].map((severalInks) => noted("looks-like-artwork", { severalInks })),
  noted("nothing-to-see", {}),
  noted("time-saved", { other: { linesPerInch: 800, seconds: 1800 }, chosen: row }),
  noted("photo-too-small", { pxPerMm: 2.4, comparedMm: 1 }),
  noted("photo-too-small", { pxPerMm: 2.4, fromLinesPerInch: 254 }),
  noted("steep-density-worse", { ...fall, material: "slate" }),
  ...varying.map((cause) => noted("steep-density-worse", { ...fall, cause, material: "slate" })),
  noted("tones-fall", fall),
  ...varying.map((cause) => noted("tones-fall", { ...fall, cause })),
  noted("char-risk", char),
  noted("line-gaps", gaps),
  noted("power-too-weak", weak),
  noted("power-very-low", { ...weak, percent: 2 }),
  noted("other-work", { material: "maple", shape: "gradual" }),
  noted("other-work", { material: "slate", shape: "steep" }),
  ...idle.map((facts) => noted("option-idle", facts)),
  noted("best-case-optics", { spotMm: 0.1 }),
  noted("run-up-dominates", runUp),
  noted("built-in-target", {}),
  noted("material-illustrative", { material: "maple" }),
  ...doubts.map((doubt) => noted("material-doubtful", doubt)),
];

const share = { share: 0.3 };
const found: { readonly [Code in keyof typeof shopWords]: Omit<DataOf<(typeof shopWords)[Code]>, "grade"> } =
  {
    DAMAGED: {},
    TOO_FEW_PIXELS: {
      ...{ widthPx: 300, heightPx: 200, widthMm: 80 },
      ...{ pxPerMm: 3.8, neededPxPerMm: 10, largestWidthMm: 30 },
    },
    BLURRED: { blurMm: 0.4, blurSpots: 4 },
    GRAINY: { drowned: true },
    CLIPPED_HIGHLIGHTS: share,
    CLIPPED_SHADOWS: share,
    TOO_DARK: { share: 0.13 },
    TOO_PALE: { share: 0.16 },
    LOW_CONTRAST: {},
    BLOCKS: {},
    ALREADY_DITHERED: {},
    SCREENSHOT: {},
    ARTWORK: { severalInks: true },
    TRANSPARENT: share,
    MANY_PAGES: { pages: 3 },
    TEXT_NOT_OUTLINED: {},
    CROPPED: share,
    STRETCHED: {},
    EXTREME_SHAPE: { widthMm: 80, heightMm: 4 },
    NOTHING_BURNS: {},
    COLOURS_MERGE: {},
    PARTS_LOST: share,
    SHADES_LOST: {},
  };

const codesOf = (told: readonly { readonly code: string }[]) => [...new Set(told.map(({ code }) => code))];

/** The codes of a table of words, read from its source: a code without a sample here is a failure. */
const codesIn = (file: string): string[] =>
  [
    ...readFileSync(new URL(`../../../src/6-report/words/${file}`, import.meta.url), "utf8").matchAll(
      /^ {2}"?([a-z]+(?:-[a-z]+)*)"?: (?:\(|$)/gm,
    ),
  ].map(([, code]) => code);

function expectSentences(said: (reader: Reader) => string): void {
  for (const reader of [libraryReader, commandReader]) {
    expect(said(reader)).toMatch(/^\S.*\S\.$/s);
    expect(said(reader)).not.toMatch(/undefined|NaN|\[object| {2}/);
  }
  expect(said(libraryReader)).not.toMatch(/(^|[\s(])--\w/);
}

describe("the catalogues of words", () => {
  const warned = (Object.keys(warnings) as (keyof WarningData)[]).flatMap((code) =>
    warnings[code].map((data, k) => ({ code, data, sample: k + 1 })),
  );

  it.each(warned)("warning $code (sample $sample)", ({ code, data }) => {
    const rule = warningRules[code];
    expect(structuredClone(data)).toEqual(data);
    expectSentences((reader) => rule.happens(data, reader));
    expectSentences((reader) => rule.whatToDo(data, reader));
    expect(sayMatter(rule, data, libraryReader)).toContain(rule.whatToDo(data, libraryReader));
    expect(rule.title).toMatch(/^\p{Lu}.*[^.]$/u);
  });

  it("warnings are complete", () => {
    expect(Object.keys(warnings).sort()).toEqual(Object.keys(warningRules).sort());
  });

  it.each(reasons)("reason $code", (reason) => {
    expect(structuredClone(reason)).toEqual(reason);
    expectSentences((reader) => sayReason(reason, reader));
  });

  it.each(changes)("change $code", (change) => {
    expect(structuredClone(change)).toEqual(change);
    expectSentences((reader) => sayChange(change, reader));
  });

  it.each(notes)("note $code", (note) => {
    expect(structuredClone(note)).toEqual(note);
    expectSentences((reader) => sayNote(note, reader));
  });

  it.each([
    ["plan-reasons.ts", codesOf(reasons)],
    ["plan-changes.ts", codesOf(changes)],
    ["plan-notes.ts", codesOf(notes)],
  ])("%s has no entry without a sample", (file, sampled) => {
    expect(codesIn(file).length).toBeGreaterThan(9);
    expect(codesIn(file).filter((code) => !sampled.includes(code))).toEqual([]);
  });

  it.each(Object.keys(found) as (keyof typeof found)[])(
    "finding %s, for the workshop and for the customer",
    (code) => {
      for (const grade of ["note", "ask"] as const) {
        const { message, customer } = finding(code, { ...found[code], grade } as never);
        for (const words of [message, customer]) {
          expect(words).toMatch(/^\S.*[.?]$/s);
          expect(words).not.toMatch(/undefined|NaN|[{}]| {2}/);
        }
      }
    },
  );
});
