import { describe, expect, it } from "vitest";
import { findHalftoneMethod } from "../../src/4-halftone/halftone.js";
import { createKernelMemory } from "../../src/core/kernel-memory.js";
import { type ResolvedOptions, resolveOptions } from "../../src/options/options.js";
import { keptCurve, measureCurve } from "../../src/pipeline/burn/burn-curve.js";
import { createJob } from "../../src/pipeline/job.js";
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
const otherMaterial = (name: string, scale: number) =>
  resolveOptions({ material: material(name, scale) }).material;

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
  motion: [
    { ...motion, speedMmPerS: 500 },
    { ...motion, firingLagUs: 90 },
    { ...motion, lineShiftMm: 0.05 },
    { ...motion, oneWay: true },
  ],
  material: [otherMaterial("board", 0.9)],
  levels: [4],
  scan: ["raster"],
  seed: [7],
  screenLinesPerInch: [60],
  screenAngleDeg: [20],
  clumping: [0.4],
  ringColumns: [320],

  ...{ widthMm: [33], heightMm: [21], fit: ["stretch"], oval: [true], vignetteMm: [2], borderMm: [1] },
  ...{ borderGapMm: [1], mask: [new Uint8Array(8)], focus: [{ xPercent: 30, yPercent: 40 }] },
  crop: [{ leftPercent: 10, topPercent: 10, widthPercent: 50, heightPercent: 50 }],
  wrap: [{ topMm: 30, bottomMm: 20, layout: "flat" }],
  ...{ kind: ["auto"], method: ["blue-noise"], toneMap: ["luminance"], compensate: [false] },
  ...{ autoTone: [false], clipPercent: [1], brightness: [10], contrast: [10], gamma: [1.2] },
  ...{ localContrast: [0.5], sharpen: [0.5], speedMmPerS: [500], accelerationMmPerS2: [900], stepTimeS: [1] },
  ...{ firingLagUs: [90], lineShiftMm: [0.05], oneWay: [true], doseSpread: [0.2], viewDistanceMm: [900] },
  ...{ mirror: [true], negative: [true], bitmapOnly: [true], format: ["bmp"] },
};

/** What some halftone's curve follows; found by the physics of the model, and asserted below by measuring. */
const MATTERS = [
  ...["pitch", "spot", "motion", "material", "levels", "scan", "seed"],
  ...["screenLinesPerInch", "screenAngleDeg", "clumping", "ringColumns"],
];

const METHODS = ["floyd-steinberg", "green-noise", "clustered-dot", "dose-feedback"];

interface Change {
  readonly name: string;
  readonly option: string;
  readonly options: ResolvedOptions;
}
const changes: Change[] = Object.entries(others).flatMap(([option, values]) =>
  values.map((value, i) => ({ name: `${option} (${i + 1})`, option, options: { ...base, [option]: value } })),
);

describe("the key of a tone curve", () => {
  const memory = createKernelMemory();
  /** Few and small patches: what a curve depends on is the same. */
  const curveOf = (method: string, options: ResolvedOptions): string => {
    const effort = { patches: 33, sidePx: 24, marginPx: 4 };
    const { fractions, luminance } = measureCurve(createJob(options), findHalftoneMethod(method), effort);
    return [...fractions, ...luminance].join(" ");
  };
  /** The name under which a job asks a store for its curve. */
  const keyOf = (method: string, options: ResolvedOptions): string => {
    const asked: string[] = [];
    const get = (key: string) => {
      asked.push(key);
      return { fractions: new Float64Array(2), luminance: new Float64Array(2) };
    };
    void keptCurve(createJob(options, memory, { get, set: () => {} }), findHalftoneMethod(method));
    return asked[0];
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
    const curves = new Map<string, (typeof found)[number]>();
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
