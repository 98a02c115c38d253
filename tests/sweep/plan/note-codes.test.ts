import sharp from "sharp";
import { describe, expect, it } from "vitest";
import type { PlanNoteCode, PlanRow } from "../../../src/6-report/plan.js";
import { resolveMaterial } from "../../../src/core/material/material.js";
import { DEFAULT_SPREAD } from "../../../src/core/spread.js";
import { checkPlanOptions, type PlanOptions, planLenses } from "../../../src/options/plan-options.js";
import { choosePhoto } from "../../../src/sweep/plan/choose-photo.js";
import { gradualPoints, steepPoints } from "../../support/materials.js";
import { plan } from "../../support/prepare.js";
import { madeUpRow } from "./made-up-row.js";

/** Notes that come of how a photo's densities compare; the others come of the options and of the row that is chosen. */
type ComparedCode = "photo-too-small" | "steep-density-worse" | "tones-fall";
/** Notes about the picture itself: see picture-look.test.ts. */
type PictureCode = "solid-artwork" | "looks-like-artwork" | "nothing-to-see";
type GeneralCode = Exclude<PlanNoteCode, ComparedCode | PictureCode>;

const wood = {
  name: "made-up wood",
  response: gradualPoints,
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "measured",
};
type MadeUp = typeof wood;

const coat: MadeUp = { ...wood, name: "made-up coat", response: steepPoints };

/** A piece that calls for no note: lines overlap, and 60 mm at 9000 mm/s² take least time at √(9000 · 60 / 2) = 520 mm/s. */
const shade: PlanOptions = {
  kind: "shade",
  widthMm: 60,
  heightMm: 20,
  spotMm: 0.1,
  material: wood,
  densities: [508],
  darkness: 0.5,
  speedMmPerS: 300,
  accelerationMmPerS2: 9000,
};
const { darkness: _, ...rest } = shade;
const strip: PlanOptions = { ...rest, kind: "strip", material: coat };
const photo: PlanOptions = {
  ...rest,
  kind: "photo",
  widthMm: 4,
  heightMm: 4,
  speedMmPerS: 60,
  method: "bayer-8",
};

/** 400 pixels on 4 mm. */
const picture = sharp({
  create: {
    width: 400,
    height: 400,
    channels: 3,
    background: "#888",
    noise: { type: "gaussian", mean: 128, sigma: 40 },
  },
})
  .png()
  .toBuffer();

const curves = new Map();

async function codesOf(options: PlanOptions, hasPhoto = options.kind === "photo"): Promise<PlanNoteCode[]> {
  const { notes } = await plan(options, hasPhoto ? await picture : undefined, { threads: 1, curves });
  return notes.map(({ code }) => code);
}

const optics = { wavelengthMm: 0.0106, focalLengthMm: 50.8, beamDiameterMm: 7 };
const { spotMm: _measured, ...computed } = shade;
const withLens: PlanOptions = { ...computed, ...optics };

/** Two plans on either side of one limit: the first has the note and no other, the second does not have it. */
interface Pair {
  readonly given: PlanOptions;
  readonly withheld: PlanOptions;
  readonly photo?: readonly [given: boolean, withheld: boolean];
}

const pairs: Readonly<Record<Exclude<GeneralCode, "char-risk">, readonly Pair[]>> = {
  "time-saved": [
    // The chosen row against a denser, slower one, against itself, and against one that is quicker and does not reach the tone.
    { given: { ...shade, against: 1016 }, withheld: { ...shade, against: 508 } },
    { given: { ...shade, against: 1016 }, withheld: { ...shade, against: 100 } },
    { given: { ...shade, against: 1016 }, withheld: shade },
    { given: { ...shade, against: 1016 }, withheld: { ...strip, against: 1016 } },
  ],
  // 25.4 / 0.1 = 254.
  "line-gaps": [
    { given: { ...photo, densities: [253.9] }, withheld: { ...photo, densities: [254] } },
    { given: { ...photo, densities: [200] }, withheld: { ...shade, densities: [200] } },
    { given: { ...photo, densities: [200] }, withheld: { ...strip, densities: [200] } },
  ],
  // Half the lines need twice the energy each: 60 % at 508 is 120 % at 254.
  "power-too-weak": [
    {
      given: { ...photo, densities: [254], powerPercent: { percent: 60, linesPerInch: 508 } },
      withheld: { ...photo, densities: [508], powerPercent: { percent: 60, linesPerInch: 508 } },
    },
  ],
  // Twice the lines need half the energy each: 8 % at 254 is 4 % at 508.
  "power-very-low": [
    {
      given: { ...photo, densities: [508], powerPercent: { percent: 8, linesPerInch: 254 } },
      withheld: { ...photo, densities: [254], powerPercent: { percent: 8, linesPerInch: 254 } },
    },
  ],
  "other-work": [
    { given: { ...strip, material: wood }, withheld: { ...strip, material: coat } },
    { given: { ...shade, material: coat }, withheld: { ...shade, material: wood } },
    { given: { ...strip, material: wood }, withheld: { ...photo, material: wood } },
    { given: { ...shade, material: coat }, withheld: { ...photo, material: coat } },
  ],
  "option-idle": [
    { given: { ...shade, propagationRatio: 1.5 }, withheld: { ...withLens, propagationRatio: 1.5 } },
    {
      given: { ...strip, wavelengthMm: 0.0106 },
      withheld: { ...strip, wavelengthMm: 0.0106, defocusMm: 0.1 },
    },
    {
      given: { ...strip, wavelengthMm: 0.0106, defocusMm: 0.1, lensShape: "plano-convex" },
      withheld: { ...withLens, lensShape: "plano-convex" },
    },
    { given: { ...photo, screenAngleDeg: 20 }, withheld: { ...photo, screenAngleDeg: 45 } },
    {
      given: { ...photo, tones: { count: 3, detailMm: 0.25 }, gain: 0.1 },
      withheld: { ...photo, tones: { count: 3, detailMm: 0.25 } },
    },
    { given: { ...strip, toneMap: "luminance" }, withheld: { ...photo, toneMap: "luminance" } },
  ],
  "best-case-optics": [
    { given: withLens, withheld: { ...withLens, propagationRatio: 1.01 } },
    { given: withLens, withheld: { ...withLens, lensShape: "best-form" } },
    { given: withLens, withheld: shade },
  ],
  // At k times the quickest speed a line takes (k + 1/k) / 2 times as long: a twentieth is saved from k = 1.3813 on. Of
  // √(9000 · 60 / 2) = 519.6 mm/s that is 717.8.
  "run-up-dominates": [
    { given: { ...shade, speedMmPerS: 718.2 }, withheld: { ...shade, speedMmPerS: 717.3 } },
    { given: { ...strip, speedMmPerS: 718.2 }, withheld: { ...strip, speedMmPerS: 717.3 } },
    // As slow as 718.2 is fast: 519.6² / 718.2 = 376.
    { given: { ...shade, speedMmPerS: 718.2 }, withheld: { ...shade, speedMmPerS: 376 } },
  ],
  "built-in-target": [
    { given: photo, withheld: photo, photo: [false, true] },
    { given: photo, withheld: shade, photo: [false, false] },
    { given: photo, withheld: strip, photo: [false, false] },
  ],
  "material-illustrative": [
    { given: { ...shade, material: { ...wood, source: "illustrative: assumed" } }, withheld: shade },
    {
      given: { ...shade, material: { ...wood, source: "illustrative" } },
      withheld: { ...shade, material: { ...wood, source: "not illustrative" } },
    },
  ],
  // Marks that are darker by the response and lighter by the colours.
  "material-doubtful": [
    {
      given: { ...shade, material: { ...wood, bareColor: "#000000", markedColor: "#ffffff" } },
      withheld: shade,
    },
  ],
};

const flat = Object.entries(pairs).flatMap(([code, own]) =>
  own.map((pair, limit) => ({ code, limit: limit + 1, ...pair })),
);

describe("notes of a plan", () => {
  it("there are none where there is nothing to say", async () => {
    for (const options of [shade, strip, photo]) expect(await codesOf(options)).toEqual([]);
  });

  it.each(flat)("$code is given and withheld (limit $limit)", async ({ code, given, withheld, photo }) => {
    expect(await codesOf(given, photo?.[0])).toEqual([code]);
    expect(await codesOf(withheld, photo?.[1])).not.toContain(code);
  });

  it("tell every doubt about a material", async () => {
    // The colours contradict the response, and the response has no dose 1.
    const doubtful = {
      ...wood,
      bareColor: "#000000",
      markedColor: "#ffffff",
      response: gradualPoints.slice(0, -1),
    };
    const codes = await codesOf({ ...shade, material: doubtful });
    expect(codes.filter((code) => code === "material-doubtful")).toHaveLength(2);
  });
});

describe("char", () => {
  const charring = (options: PlanOptions, charDose: number): PlanOptions => ({
    ...options,
    material: { ...(options.kind === "strip" ? coat : wood), charDose },
  });

  it("of a photo is told from the dose on the centres of its lines, that of a solid fill being 1", async () => {
    const { rows } = await plan(photo, await picture, { threads: 1 });
    const { peakDose } = rows[0];
    expect(peakDose).toBeGreaterThan(1);
    expect(await codesOf(charring(photo, peakDose))).toEqual(["char-risk"]);
    expect(await codesOf(charring(photo, peakDose * 1.0001))).toEqual([]);
  });

  it("of a shade is told from the dose on the centres of the lines that the tone needs", async () => {
    const { rows } = await plan(shade);
    const { dose = 1, peakDose = 0 } = rows[0].shade ?? {};
    expect(dose).toBeLessThan(0.9);
    expect(await codesOf(charring(shade, peakDose * 0.9999))).toEqual(["char-risk"]);
    expect(await codesOf(charring(shade, peakDose * 1.0001))).toEqual([]);
  });

  it("of a coating that is taken off is not told", async () => {
    expect(await codesOf(charring(strip, 0.1))).toEqual([]);
  });
});

/** What a photo's row holds in a detail of a quarter and of half a millimetre, and the detail of the photo where there is one. */
interface Held {
  readonly fine: number;
  readonly photoLpPerMm?: number;
  readonly limitedBy?: PlanRow["detail"]["limitedBy"];
}

/** Each row takes twice the time of the one before. */
function rowOf({ fine, photoLpPerMm, limitedBy = "spot" }: Held, index: number): PlanRow {
  const row = madeUpRow({
    linesPerInch: 127 * (index + 1),
    seconds: 100 * 2 ** index,
    tonalResolution: [{ addressable: 99, nominal: 30, detailMm: 0.25, held: 1.5 * fine }],
    usefulTones: fine,
  });
  const photo = photoLpPerMm === undefined ? {} : { photoLpPerMm };
  return { ...row, detail: { ...row.detail, limitedBy, ...photo } };
}

/** The notes of these rows, of which one is worth its time, and which of them is chosen. */
function compared(held: readonly Held[], worthRow: number, material = wood) {
  const options = checkPlanOptions({ kind: "photo", spotMm: 0.1 });
  const [lens] = planLenses(options);
  const rows = held.map(rowOf);
  const choice = choosePhoto({
    spread: DEFAULT_SPREAD,
    lens,
    material: resolveMaterial(material),
    options,
    rows,
    worth: {
      usefulAt: () => Number.NaN,
      worthAt: () => ({ linesPerInch: rows[worthRow].linesPerInch, isCapped: false }),
    },
  });
  return { codes: choice.notes.map(({ code }) => code), chosen: rows.indexOf(choice.row) };
}

interface ComparedCase {
  readonly what: string;
  readonly held: readonly Held[];
  readonly material?: MadeUp;
  readonly chosen: number;
}

interface ComparedCases {
  readonly given: readonly ComparedCase[];
  readonly withheld: readonly ComparedCase[];
}

const falling = (last: number): readonly Held[] => [{ fine: 8 }, { fine: 12 }, { fine: last }];
const coarse = (photoLpPerMm: number): readonly Held[] => [{ fine: 10, photoLpPerMm }];
const bound = (...by: readonly NonNullable<Held["limitedBy"]>[]): readonly Held[] =>
  by.map((limitedBy, k) => ({ fine: [8, 12, 12][k], photoLpPerMm: 5, limitedBy }));
const comparedCases: Readonly<Record<ComparedCode, ComparedCases>> = {
  "tones-fall": {
    given: [
      { what: "a whole tone fewer at the densest", held: falling(11), chosen: 1 },
      {
        what: "a whole tone fewer in between",
        held: [{ fine: 12 }, { fine: 11 }, { fine: 12 }],
        chosen: 0,
      },
    ],
    withheld: [
      { what: "less than a tone fewer", held: falling(11.01), chosen: 1 },
      { what: "on a coating", held: falling(11), material: coat, chosen: 1 },
      { what: "fewer at lower densities alone", held: falling(12), chosen: 1 },
    ],
  },
  "steep-density-worse": {
    given: [{ what: "a whole tone fewer on a coating", held: falling(11), material: coat, chosen: 1 }],
    withheld: [
      { what: "less than a tone fewer", held: falling(11.01), material: coat, chosen: 1 },
      { what: "on wood", held: falling(11), chosen: 1 },
    ],
  },
  "photo-too-small": {
    given: [
      // A pixel of 1 / (2 · 1.99) mm is wider than a quarter of a millimetre.
      { what: "pixels wider than the detail", held: coarse(1.99), chosen: 0 },
      { what: "the photo limits the choice", held: bound("spot", "photo", "photo"), chosen: 1 },
      { what: "the photo limits a higher density", held: bound("spot", "spot", "photo"), chosen: 1 },
    ],
    withheld: [
      { what: "pixels as wide as the detail", held: coarse(2), chosen: 0 },
      { what: "the photo limits no density", held: bound("spot", "spot", "spot"), chosen: 1 },
      { what: "the photo limits a lower density alone", held: bound("photo", "spot", "spot"), chosen: 1 },
      { what: "no photo", held: [{ fine: 8, limitedBy: "photo" }], chosen: 0 },
    ],
  },
};

const comparisons = (Object.entries(comparedCases) as [ComparedCode, ComparedCases][]).flatMap(
  ([code, { given, withheld }]) => [
    ...given.map((each) => ({ code, told: true, ...each })),
    ...withheld.map((each) => ({ code, told: false, ...each })),
  ],
);

describe("notes of a comparison", () => {
  it.each(comparisons)("$code: $what: $told", ({ code, told, held, material, chosen }) => {
    const found = compared(held, chosen, material);
    expect(found.chosen).toBe(chosen);
    if (told) expect(found.codes).toEqual([code]);
    else expect(found.codes).not.toContain(code);
  });
});
