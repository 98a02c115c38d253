/*
 * The numbers of a plan's row are those of a prepared piece at that density.
 */
import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import {
  type PlanOptions,
  type PlanRow,
  type PrepareOptions,
  plan,
  prepare,
  type Report,
} from "../../../src/index.js";
import { photographPath } from "../../pipeline/photograph.js";

let boats: Uint8Array;
beforeAll(async () => {
  boats = await readFile(photographPath("nagasaki-boats"));
});

function expectSamePhysics(row: PlanRow, { coverage, detail, job, runTime }: Report): void {
  const { gapMm, overlap, ripple, peakDose, markWidthMm, markGapMm, powerFactor, doseFactor } = row;
  expect({ gapMm, overlap, ripple, peakDose, markWidthMm, markGapMm, powerFactor }).toEqual({
    gapMm: coverage.gapMm,
    overlap: coverage.overlap,
    ripple: coverage.ripple,
    peakDose: coverage.peakDose,
    markWidthMm: coverage.markWidthMm,
    markGapMm: coverage.markGapMm,
    powerFactor: coverage.powerFactor,
  });
  expect(doseFactor).toBe(coverage.solidDoseFactor);
  expect(row.detail).toEqual(detail);
  expect([row.columns, row.rows, row.linesPerInch, row.pitchMm, row.overdrive]).toEqual([
    job.columns,
    job.rows,
    job.linesPerInch,
    job.pitchAcrossMm,
    job.overdrive,
  ]);
  expect([row.seconds, row.lines, row.beamOnSeconds]).toEqual([
    runTime.seconds,
    runTime.lines,
    runTime.beamOnSeconds,
  ]);
}

describe.each<[string, PrepareOptions]>([
  [
    "steel, two-way with a lag",
    { material: "coated-steel", method: "auto", firingLagUs: 40, linesPerInch: 300 },
  ],
  [
    "maple with gaps, one way, a cropped oval with a border, of four power levels",
    {
      ...{ material: "maple", oneWay: true, linesPerInch: 180 },
      crop: { leftPercent: 10, topPercent: 5, widthPercent: 70, heightPercent: 80 },
      ...{
        oval: true,
        borderMm: 0.4,
        vignetteMm: 1,
        levels: 4,
        method: "floyd-steinberg",
      },
    },
  ],
  [
    "a cylinder of slate, uncompensated and mirrored",
    {
      ...{ widthMm: undefined, aroundMm: 4, linesPerInch: 350, material: "slate" },
      ...{ method: "blue-noise", compensate: false, mirror: true },
    },
  ],
])("a row and a report: %s", (_, given) => {
  const shared = { widthMm: 12, spotMm: 0.115, speedMmPerS: 200, ...given };

  it("say the same", async () => {
    const { linesPerInch = 0, ...others } = shared;
    const made = await plan({ ...others, densities: [linesPerInch] } as PlanOptions, boats);
    const { report } = await prepare(boats, shared);
    const [row] = made.rows;
    expectSamePhysics(row, report);
    expect(row.method).toBe(report.job.method);
    expect(row.tonalResolution).toEqual(report.tonalResolution);
    expect(row.visualErrorRms).toBe(report.prediction?.visualErrorRms);
    expect(row.visualErrorBias).toBe(report.prediction?.visualErrorBias);
    expect(row.judgedShare).toBe(report.prediction?.judgedShare);
    expect(row.expectedVisualError).toBe(report.prediction?.expectedVisualError);
    expect(row.unevenness).toBe(report.prediction?.unevenness);
    expect(row.toneShift).toBe(report.prediction?.toneShift);
    expect(made.job.spread).toEqual(report.job.spread);
    expect(made.cautions).toEqual(report.cautions);
  });
});

it("a solid takes the time of a prepared picture that burns all over", async () => {
  const white = await sharp({ create: { width: 60, height: 40, channels: 3, background: "#fff" } })
    .png()
    .toBuffer();
  const shared = {
    widthMm: 30,
    heightMm: 20,
    spotMm: 0.115,
    material: "coated-steel",
    stepTimeS: 0.01,
  } as const;
  const [row] = (await plan({ ...shared, kind: "strip", densities: [247] })).rows;
  const { report } = await prepare(white, {
    ...shared,
    linesPerInch: 247,
    autoTone: false,
    method: "floyd-steinberg",
    bitmapOnly: true,
  });
  expect(report.coverage.burnFraction).toBe(1);
  expect([row.seconds, row.lines, row.columns, row.rows]).toEqual([
    report.runTime.seconds,
    report.runTime.lines,
    report.job.columns,
    report.job.rows,
  ]);
  expect([row.markWidthMm, row.markGapMm]).toEqual([report.coverage.markWidthMm, report.coverage.markGapMm]);
});
