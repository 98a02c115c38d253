import { describe, expect, it } from "vitest";
import type { Photo } from "../../src/1-photo/photo.js";
import { findHalftoneMethod } from "../../src/4-halftone/halftone.js";
import type { ToneCurve } from "../../src/5-burn/tone-curve.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { plane } from "../../src/core/plane.js";
import { tabulate } from "../../src/core/tabulated.js";
import { type ResolvedOptions, resolveOptions } from "../../src/options/options.js";
import { keptCurve, measureCurve } from "../../src/pipeline/burn/burn-curve.js";
import { methodFor } from "../../src/pipeline/burn/choose-method.js";
import { createJob } from "../../src/pipeline/job.js";
import { toneCounts } from "../../src/pipeline/judge/tone-counts.js";
import type { Table } from "../../src/pipeline/kept-tables.js";
import { photoOnGrid } from "../../src/pipeline/photo/luminance.js";
import { frameOf } from "../../src/pipeline/photo/piece-size.js";
import { gradualPoints } from "../support/materials.js";

const material = (name: string, scale: number) => ({
  ...{ name, bareColor: "#e3c9a0", markedColor: "#3a2415", source: "made up for the test" },
  response: gradualPoints.map(([dose, luminance]) => [dose, luminance * scale]),
});

/** Machine effects are on, and every option whose default depends on another one is set. */
const base = resolveOptions({
  ...{ linesPerInch: 200, linesPerInchAlong: 220, spotMm: { alongMm: 0.12, acrossMm: 0.15 } },
  ...{ speedMmPerS: 300, firingLagUs: 60, lineShiftMm: 0.03, screenLinesPerInch: 50, kind: "photo" },
  material: material("board", 1),
});
const { pitch, spot, motion } = base;
const otherMaterial = (name: string, scale: number, more: { readonly lineExponent?: number } = {}) =>
  resolveOptions({ material: { ...material(name, scale), ...more } }).material;

/** Other values of every option there is: a new option has to be entered here. */
const others: { readonly [Option in keyof ResolvedOptions]-?: readonly ResolvedOptions[Option][] } = {
  pitch: [
    { ...pitch, alongMm: 0.11 },
    { ...pitch, acrossMm: 0.13 },
  ],
  spot: [
    { ...spot, alongMm: 0.14 },
    { ...spot, acrossMm: 0.17 },
  ],
  passes: [3],
  aim: ["nominal"],
  startBitmap: [new Uint8Array(8)],
  searchSeconds: [10],
  fullTone: [{ percent: 40, pitchMm: 0.1, speedMmPerS: 300 }],
  outOfFocus: [{ defocusMm: 3, focusSpot: spot }],
  motion: [
    { ...motion, speedMmPerS: 500 },
    { ...motion, firingLagUs: 90 },
    { ...motion, firingLossUs: 40 },
    { ...motion, firingLossUs: -40 },
    { ...motion, lineShiftMm: 0.05 },
    { ...motion, oneWay: true },
  ],
  material: [
    otherMaterial("board", 0.9),
    resolveOptions({
      material: { ...material("board", 1), referencePitchMm: 0.1, referenceSpotMm: 0.1 },
    }).material,
    otherMaterial("board", 1, { lineExponent: 1.5 }),
  ],
  levels: [4],
  scan: ["raster"],
  seed: [7],
  screenLinesPerInch: [60],
  screenAngleDeg: [20],
  clumping: [0.4],
  ringColumns: [320],

  ...{ widthMm: [33], heightMm: [21], fit: ["stretch"], oval: [true], vignetteMm: [2], borderMm: [1] },
  ...{ text: ["Ada"], textHeightMm: [2] },
  ...{ borderGapMm: [1], mask: [new Uint8Array(8)], focus: [{ xPercent: 30, yPercent: 40 }] },
  crop: [{ leftPercent: 10, topPercent: 10, widthPercent: 50, heightPercent: 50 }],
  wrap: [{ topMm: 30, bottomMm: 20, layout: "flat" }],
  ...{ kind: ["auto"], method: ["blue-noise"], toneMap: ["luminance"], compensate: [false] },
  ...{ autoTone: [false], clipPercent: [1], brightness: [10], contrast: [10], gamma: [1.2] },
  ...{
    lift: [0.5],
    localContrast: [0.5],
    sharpen: [0.5],
    speedMmPerS: [500],
    accelerationMmPerS2: [900],
    stepTimeS: [1],
  },
  ...{
    firingLagUs: [90],
    firingLossUs: [40],
    lineShiftMm: [0.05],
    oneWay: [true],
    spread: [
      { ...base.spread, common: 0.2 },
      { ...base.spread, local: 0.2 },
      { ...base.spread, localLengthMm: 5 },
      { ...base.spread, line: 0.2 },
      { ...base.spread, spot: 0.2 },
    ],
    viewDistanceMm: [900],
  },
  assumed: [["spotMm"]],
  conditional: [[{ option: "seed", need: "seed" }]],
  ...{ mirror: [true], negative: [true], bitmapOnly: [true], format: ["bmp"] },
};

/** What some halftone's curve follows; found by the physics of the model, and asserted below by measuring. */
const MATTERS = [
  ...["pitch", "spot", "motion", "material", "levels", "scan", "seed"],
  ...["screenLinesPerInch", "screenAngleDeg", "clumping", "ringColumns"],
];

const TWO = new Float64Array(2);
const METHODS = ["floyd-steinberg", "green-noise", "clustered-dot", "dose-feedback"];

interface Change {
  readonly name: string;
  readonly option: string;
  readonly options: ResolvedOptions;
}
const changes: Change[] = Object.entries(others).flatMap(([option, values]) =>
  values.map((value, i) => ({ name: `${option} (${i + 1})`, option, options: { ...base, [option]: value } })),
);

/** A store that has everything, and the key that it was last asked for. */
function knowingStore(table: Table) {
  let key: string | undefined;
  const get = (asked: string): Table => {
    key = asked;
    return table;
  };
  return { curves: { get, set: () => {} }, asked: () => key };
}
const memory = createKernelMemory();

describe("the key of a tone curve", () => {
  /** Few and small patches: what a curve depends on is the same. */
  const curveOf = (method: string, options: ResolvedOptions): string => {
    const effort = { patches: 33, sidePx: 24, marginPx: 4 };
    const { fractions, luminance } = measureCurve(createJob(options), findHalftoneMethod(method), effort);
    return [...fractions, ...luminance].join(" ");
  };
  /** The name under which a job asks a store for its curve. */
  const keyOf = (method: string, options: ResolvedOptions): string | undefined => {
    const { curves, asked } = knowingStore({ fractions: TWO, luminance: TWO });
    void keptCurve(createJob(options, memory, curves), findHalftoneMethod(method));
    return asked();
  };
  const takes = (method: string, { levels }: ResolvedOptions) =>
    levels === 2 || ["floyd-steinberg", "clustered-dot"].includes(method);
  const found = METHODS.flatMap((method) =>
    [{ name: "base", option: "", options: base }, ...changes]
      .filter(({ options }) => takes(method, options))
      .map((change) => ({
        ...{ ...change, method },
        ...{ key: keyOf(method, change.options), curve: curveOf(method, change.options) },
      })),
  );

  it("is another wherever the curve is", () => {
    const curves = new Map<string | undefined, (typeof found)[number]>();
    for (const one of found) {
      const first = curves.get(one.key) ?? one;
      curves.set(one.key, first);
      const same = one.curve === first.curve;
      expect(same, `${one.method}, ${one.name}: another curve under the key of ${first.name}`).toBe(true);
    }
  });

  it.each(changes.filter(({ option }) => MATTERS.includes(option)))(
    "is another, as the curve of some halftone is: $name",
    ({ name, options }) => {
      const bases = new Map(
        found.filter(({ name }) => name === "base").map((one) => [one.method, one.curve]),
      );
      const changed = found.filter((one) => one.name === name && one.curve !== bases.get(one.method));
      expect(changed).not.toEqual([]);
      for (const { method } of changed) expect(keyOf(method, options)).not.toBe(keyOf(method, base));
    },
  );

  it.each(changes.filter(({ option }) => !MATTERS.includes(option)))(
    "is the same where nothing of a curve depends on it: $name",
    ({ options }) => {
      for (const method of METHODS) expect(keyOf(method, options)).toBe(keyOf(method, base));
    },
  );

  it("does not depend on what the material is called", () => {
    const renamed = { ...base, material: otherMaterial("panel", 1) };
    for (const method of METHODS) expect(keyOf(method, renamed)).toBe(keyOf(method, base));
  });
});

describe("the key of trial errors", () => {
  const luminance = plane("encoded-luminance", new Uint16Array(64 * 64).fill(30_000), 64, 64);
  const photo: Photo = {
    ...{ luminance, format: "png", sourceBits: 16, hadProfile: false, orientation: 1, pages: 1 },
    looksDamaged: false,
  };
  const picture = photoOnGrid(photo, frameOf(photo, base), base);
  const keyOf = async (options: ResolvedOptions): Promise<string | undefined> => {
    const { curves, asked } = knowingStore({ candidate: TWO, trialError: TWO });
    await methodFor(createJob({ ...options, method: "auto" }, memory, curves), picture);
    return asked();
  };
  const matters = [...MATTERS, "toneMap", "compensate", "spread", "viewDistanceMm"];

  it.each(changes.filter(({ option }) => matters.includes(option)))(
    "is another with other options: $name",
    async ({ options }) => {
      expect(await keyOf(options)).not.toBe(await keyOf(base));
    },
  );

  it("is another for another part of the photo", async () => {
    const before = await keyOf(base);
    luminance.pixels.data[64 * 32 + 32] = 0;
    expect(await keyOf(base)).not.toBe(before);
  });
});

describe("the key of counted tones", () => {
  const rule = { burnFor: tabulate((luminance) => luminance, 0, 1), compensated: true, balanced: true };
  const keyOf = async (options: ResolvedOptions, curve?: ToneCurve): Promise<string | undefined> => {
    const { curves, asked } = knowingStore({ detailMm: TWO, addressable: TWO, nominal: TWO, held: TWO });
    const made = curve === undefined ? rule : { ...rule, curve };
    await toneCounts(createJob(options, memory, curves), findHalftoneMethod("green-noise"), made);
    return asked();
  };
  const matters = [...MATTERS, "toneMap", "spread"];

  it.each(changes.filter(({ option }) => matters.includes(option)))(
    "is another with other options: $name",
    async ({ options }) => {
      expect(await keyOf(options)).not.toBe(await keyOf(base));
    },
  );

  it.each(changes.filter(({ option }) => !matters.includes(option)))(
    "is the same where they do not depend on it: $name",
    async ({ options }) => {
      expect(await keyOf(options)).toBe(await keyOf(base));
    },
  );

  it("is another with another tone curve, and with none", async () => {
    const curves = [undefined, [0.6, 0.1], [0.6, 0.2]].map((ends) =>
      ends ? { fractions: Float64Array.of(0, 1), luminance: Float64Array.from(ends) } : undefined,
    );
    const keys = await Promise.all(curves.map((curve) => keyOf(base, curve)));
    expect(new Set(keys).size).toBe(3);
  });
});
