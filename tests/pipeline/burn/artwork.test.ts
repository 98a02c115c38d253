import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { denseData } from "../../../src/core/plane.js";
import type { PrepareOptions } from "../../../src/index.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../../support/materials.js";
import { prepare } from "../../support/prepare.js";
import { hasReference } from "../../support/reference.js";
import { type BarJob, barDrawing, barsOf, engraveBars, measureBars, roughnessOfEdges } from "../bars.js";

const responses = { gradual: gradualPoints, steep: steepPoints, lightening: lighteningPoints } as const;
type Surface = keyof typeof responses;

/** Maximum error of an engraved width: a quarter of the pitch, or 0.01 mm if that is more. */
const toleranceMm = (linesPerInch: number): number => Math.max(0.01, 25.4 / linesPerInch / 4);

const sheet = barsOf([0.2, 0.5, 2], [0, 90, 30, 45]);

describe.skipIf(!hasReference())("engraved widths of bars, by brute force", () => {
  it.each<[Surface, number, number]>([
    ["steep", 254, 0.08],
    ["steep", 1016, 0.115],
    ["gradual", 508, 0.1],
  ])("are as drawn on a %s surface, %d lines per inch, spot %d mm", async (surface, linesPerInch, spotMm) => {
    const job: BarJob = { response: responses[surface], linesPerInch, spotMm };
    const piece = await engraveBars(barDrawing(sheet, "#000", "#fff"), sheet, job);
    const bars = measureBars(piece, sheet, job);
    bars.forEach(({ widthMm, edgesMm, cut }, k) => {
      const drawn = sheet.bars[k];
      const what = `${drawn.widthMm} mm at ${drawn.angleDeg}°`;
      expect(Math.abs(widthMm - drawn.widthMm), what).toBeLessThan(toleranceMm(linesPerInch));
      for (const edgeMm of edgesMm) expect(Math.abs(edgeMm), what).toBeLessThan(toleranceMm(linesPerInch));
      // Where lines leave gaps there is nothing between them.
      if (spotMm * linesPerInch >= 25.4) expect(cut, what).toBe(0);
    });
  });

  it.each<[Surface, string, string, number, number]>([
    ["steep", "#fff", "#000", 508, 0.115],
    ["lightening", "#000", "#fff", 508, 0.115],
  ])(
    "are as drawn where they are bare in an engraved ground: %s, %s on %s, %d lines per inch, spot %d mm",
    async (surface, ink, paper, linesPerInch, spotMm) => {
      const job: BarJob = { response: responses[surface], linesPerInch, spotMm };
      const piece = await engraveBars(barDrawing(sheet, ink, paper), sheet, job);
      measureBars(piece, sheet, job, 0).forEach(({ widthMm, cut }, k) => {
        expect(Math.abs(widthMm - sheet.bars[k].widthMm)).toBeLessThan(toleranceMm(linesPerInch));
        expect(cut).toBe(0);
      });
    },
  );

  it("come out too thick where edges are not moved", async () => {
    const job: BarJob = {
      response: steepPoints,
      linesPerInch: 508,
      spotMm: 0.115,
      more: { method: "threshold" },
    };
    const piece = await engraveBars(barDrawing(sheet, "#000"), sheet, job);
    const errors = measureBars(piece, sheet, job).map(({ widthMm }, k) => widthMm - sheet.bars[k].widthMm);
    expect(errors.reduce((sum, error) => sum + error, 0) / errors.length).toBeGreaterThan(0.015);
    expect(piece.report.warnings.map(({ code }) => code)).toContain("uncompensated");
    expect(piece.report.job).toMatchObject({ method: "threshold", compensated: false });
    expect(piece.report.edges).toBeUndefined();
  });

  it.each<[string, PrepareOptions]>([
    [
      "a firing lag, both ways, and lines of the way back 0.04 mm off",
      { firingLagUs: 100, speedMmPerS: 500, lineShiftMm: 0.04 },
    ],
    ["a firing lag, one way", { firingLagUs: 100, speedMmPerS: 500, oneWay: true }],
    ["pixels finer along the lines than across", { linesPerInchAlong: 1016 }],
  ])("and both edges stay in their places with %s", async (_, more) => {
    const few = barsOf([0.3, 1], [0, 90, 26.565]);
    const job: BarJob = { response: steepPoints, linesPerInch: 508, spotMm: 0.115, more };
    const piece = await engraveBars(barDrawing(few, "#000"), few, job);
    measureBars(piece, few, job).forEach(({ widthMm, edgesMm }, k) => {
      expect(Math.abs(widthMm - few.bars[k].widthMm)).toBeLessThan(toleranceMm(508));
      for (const edgeMm of edgesMm) expect(Math.abs(edgeMm)).toBeLessThan(toleranceMm(508));
    });
  });

  it("are as drawn from a raster picture of two pixels a millimetre tenth, either direction", async () => {
    const job: BarJob = { response: steepPoints, linesPerInch: 508, spotMm: 0.115 };
    const few = barsOf([0.3, 1], [0, 90, 30]);
    const raster = await sharp(barDrawing(few, "#000", "#fff"), { density: 144 })
      .resize(20 * few.columnsMm)
      .png()
      .toBuffer();
    const piece = await engraveBars(raster, few, job);
    measureBars(piece, few, job).forEach(({ widthMm }, k) => {
      expect(Math.abs(widthMm - few.bars[k].widthMm)).toBeLessThan(0.025);
    });
  });
});

describe.skipIf(!hasReference())("edges, by brute force and an eye's filter", () => {
  const edges = barsOf([1], [0, 10, 30, 45, 80, 90]);

  it.each<[Surface, number, number]>([
    ["steep", 127, 0.2],
    ["steep", 508, 0.115],
    ["gradual", 170, 0.08],
  ])(
    "look smooth from where the report says on a %s surface, %d lines per inch, spot %d mm",
    async (surface, linesPerInch, spotMm) => {
      const job: BarJob = { response: responses[surface], linesPerInch, spotMm };
      const piece = await engraveBars(barDrawing(edges, "#000", "#fff"), edges, job);
      const { smoothFromMm = 0 } = piece.report.edges ?? {};
      const seen = roughnessOfEdges(piece, edges, job, [smoothFromMm, smoothFromMm / 2]);
      const [there, nearer] = [0, 1].map((k) => Math.max(...seen.map((byDistance) => byDistance[k])));
      // About a step that an eye just sees, between neighbours: 1 L*.
      expect(there).toBeGreaterThan(0.4);
      expect(there).toBeLessThan(1.7);
      expect(nearer).toBeGreaterThan(2 * there);
    },
  );
});

describe.skipIf(!hasReference())("thin strokes and narrow gaps, by brute force", () => {
  const angles = [0, 90, 20, 45, 70];

  it.each([254, 1016])(
    "hairlines leave a mark from end to end at %d lines per inch, and are told",
    async (linesPerInch) => {
      const hairlines = barsOf([0.02, 0.04], angles);
      const job: BarJob = { response: steepPoints, linesPerInch, spotMm: 0.115 };
      const piece = await engraveBars(barDrawing(hairlines, "#000"), hairlines, job);
      const { edges, warnings } = piece.report;
      for (const { widthMm, cut } of measureBars(piece, hairlines, job)) {
        // On the coarse grid single pixels of a slanted line touch at their corners only.
        expect(cut).toBeLessThanOrEqual(linesPerInch === 254 ? 0.15 : 0);
        expect(widthMm).toBeGreaterThan(0.03);
        expect(widthMm).toBeLessThan(1.05 * (edges?.thinnestMarkMm ?? 0));
      }
      // Ten lines of 4 mm; a pixel at their ends may be missing.
      expect(edges?.thinStrokes.lengthMm).toBeGreaterThan(37);
      expect(edges?.thinStrokes.lengthMm).toBeLessThan(42);
      expect(Math.abs((edges?.thinStrokes.thinnestMm ?? 0) - 0.02)).toBeLessThan(0.004);
      expect(warnings.map(({ code }) => code)).toContain("thin-strokes");
    },
  );

  it("gaps close where the report says so, and stay open where it does not", async () => {
    const job: BarJob = { response: steepPoints, linesPerInch: 508, spotMm: 0.115 };
    const narrow = barsOf([0.015], angles);
    const wide = barsOf([0.08], angles);
    const [closed, open] = [
      await engraveBars(barDrawing(narrow, "#fff", "#000"), narrow, job),
      await engraveBars(barDrawing(wide, "#fff", "#000"), wide, job),
    ];
    for (const { cut } of measureBars(closed, narrow, job, 0)) expect(cut).toBe(1);
    for (const { cut } of measureBars(open, wide, job, 0)) expect(cut).toBe(0);
    const { edges } = closed.report;
    expect(edges?.closingGapMm).toBeGreaterThan(0.015);
    expect(edges?.closingGapMm).toBeLessThan(0.08);
    expect(edges?.closingGaps.lengthMm).toBeGreaterThan(18);
    expect(closed.report.warnings.map(({ code }) => code)).toContain("closing-gaps");
    expect(open.report.edges?.closingGaps.lengthMm).toBeLessThan(1);
    expect(open.report.warnings.map(({ code }) => code)).not.toContain("closing-gaps");
  });
});

describe("a solid piece", () => {
  const logo = readFile(new URL("../../../sample-images/logo.svg", import.meta.url));
  const job: PrepareOptions = { kind: "solid", widthMm: 20, spotMm: 0.1, linesPerInch: 508 };

  it("has no halftone and no tones; edges, prediction and preview instead", async () => {
    const { report, previewFile, bitmap } = await prepare(await logo, job);
    expect(report.job).toMatchObject({ kind: "solid", method: "none", compensated: true });
    expect(report.tonalResolution).toBeUndefined();
    expect(report.methodRanking).toBeUndefined();
    expect(previewFile?.length).toBeGreaterThan(1000);
    expect(report.prediction?.visualErrorRms).toBeLessThan(
      0.6 * (report.prediction?.uncompensatedVisualErrorRms ?? 0),
    );
    const burned = denseData(bitmap).reduce((sum, bit) => sum + bit, 0);
    expect(report.coverage.burnFraction).toBeCloseTo(burned / (400 * 400), 9);
    expect(report.warnings.map(({ code }) => code)).not.toContain("looks-like-artwork");
  });

  it("burns one ink on transparency as drawn, whatever its colour", async () => {
    const disc = (ink: string) =>
      Buffer.from(
        `<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100"><circle cx="50" cy="50" r="40" fill="${ink}"/></svg>`,
      );
    const share = async (ink: string, material: string) =>
      (await prepare(disc(ink), { ...job, material, bitmapOnly: true })).report.coverage.burnFraction;
    // π · 40² of 100², less a rim as wide as the mark grows: under 0.02 mm of a radius of 8 mm.
    const whole = (Math.PI * 40 ** 2) / 100 ** 2;
    for (const [ink, material] of [
      ["#000", "maple"],
      ["#fff", "slate"],
      ["#eee", "maple"],
      ["#25406b", "slate"],
      ["#111", "slate"],
    ]) {
      const burned = await share(ink, material);
      expect(burned).toBeLessThan(whole);
      expect(burned).toBeGreaterThan(whole * (1 - 0.04 / 8) - 1e-4);
    }
  });

  it("says that a negative changes nothing of one ink on transparency", async () => {
    const disc = Buffer.from(
      `<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100"><circle cx="50" cy="50" r="40"/></svg>`,
    );
    const made = (negative: boolean) => prepare(disc, { ...job, negative, bitmapOnly: true });
    const [plain, swapped] = [await made(false), await made(true)];
    expect(Buffer.from(swapped.burnFile).equals(plain.burnFile)).toBe(true);
    const codes = ({ report }: typeof plain) => report.warnings.map(({ code }) => code);
    expect(codes(swapped)).toContain("negative-idle");
    expect(codes(plain)).not.toContain("negative-idle");
  });

  it("swaps ink and paper for a negative", async () => {
    const drawing = (ink: string, paper: string) =>
      Buffer.from(
        `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10"><rect width="20" height="10" fill="${paper}"/><circle cx="7" cy="5" r="3.3" fill="${ink}"/></svg>`,
      );
    const slate: PrepareOptions = { widthMm: 20, linesPerInch: 254, material: "slate", bitmapOnly: true };
    const burned = async (ink: string, paper: string, negative: boolean) =>
      (await prepare(drawing(ink, paper), { ...slate, kind: "solid", negative })).burnFile;
    const light = await burned("#fff", "#000", false);
    expect(Buffer.from(await burned("#000", "#fff", true)).equals(Buffer.from(light))).toBe(true);
    expect(Buffer.from(await burned("#000", "#fff", false)).equals(Buffer.from(light))).toBe(false);
  });

  it("is the mirror image where it is mirrored, to a level of the pattern along its edges", async () => {
    const plain = await prepare(await logo, { ...job, bitmapOnly: true });
    const mirrored = await prepare(await logo, { ...job, mirror: true, bitmapOnly: true });
    const [a, b] = [denseData(plain.bitmap), denseData(mirrored.bitmap)];
    const { columns } = plain.report.job;
    let differ = 0;
    for (let i = 0; i < a.length; i++) {
      const x = i % columns;
      if (a[i] !== b[i - x + columns - 1 - x]) differ++;
    }
    expect(differ / a.length).toBeLessThan(0.01);
    expect(Buffer.from(mirrored.burnFile).equals(Buffer.from(plain.burnFile))).toBe(false);
  });

  describe("where nobody says what it is", () => {
    const made = async (picture: Uint8Array, options: PrepareOptions) => {
      const { report, burnFile } = await prepare(picture, { widthMm: 8, bitmapOnly: true, ...options });
      const { kind, kindGuessed } = report.job;
      return { kind, kindGuessed, codes: report.warnings.map(({ code }) => code), burnFile };
    };

    it("is told from the picture, says so, and is the same as if asked for", async () => {
      const [told, asked] = [await made(await logo, {}), await made(await logo, { kind: "solid" })];
      expect(told).toMatchObject({ kind: "solid", kindGuessed: true });
      expect(told.codes).toContain("taken-for-artwork");
      expect(asked).toMatchObject({ kind: "solid", kindGuessed: false });
      expect(asked.codes).not.toContain("taken-for-artwork");
      expect(Buffer.from(told.burnFile).equals(Buffer.from(asked.burnFile))).toBe(true);
    });

    it("gives way to --kind photo", async () => {
      const { kind, kindGuessed, codes } = await made(await logo, { kind: "photo" });
      expect({ kind, kindGuessed }).toEqual({ kind: "photo", kindGuessed: false });
      expect(codes).not.toContain("looks-like-artwork");
    });

    it.each<PrepareOptions>([{ method: "floyd-steinberg" }, { brightness: 10 }, { sharpen: 1 }])(
      "gives way to %o, which only a photo has, with a hint",
      async (tonal) => {
        const { kind, codes } = await made(await logo, tonal);
        expect(kind).toBe("photo");
        expect(codes).toContain("looks-like-artwork");
      },
    );

    it("leaves a picture in two middling tones a photo, with a hint", async () => {
      const onYellow = await sharp(await logo)
        .flatten({ background: "#d9b310" })
        .png()
        .toBuffer();
      const { kind, codes } = await made(onYellow, {});
      expect(kind).toBe("photo");
      expect(codes).toContain("looks-like-artwork");
    });
  });

  it.each<[keyof PrepareOptions, PrepareOptions]>([
    ["method", { method: "floyd-steinberg" }],
    ["brightness", { brightness: 10 }],
    ["sharpen", { sharpen: 1, method: "threshold" }],
  ])("takes no %s", async (option, tonal) => {
    await expect(prepare(await logo, { ...job, ...tonal })).rejects.toMatchObject({
      code: "OPTION_CONFLICT",
      option,
    });
  });
});
