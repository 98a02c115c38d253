/*
 * What a comparison tells beyond the reports: found again by another way, or known beforehand.
 */
import { readFile } from "node:fs/promises";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { planesOf } from "../../../sample-images/planes.js";
import { planExposure } from "../../../src/5-burn/exposure-plan.js";
import { visualErrors } from "../../../src/5-burn/visual-error.js";
import { lightnessFromLuminance } from "../../../src/core/physics/lightness.js";
import { denseData } from "../../../src/core/plane.js";
import {
  type Candidate,
  type CompareOptions,
  comparisonCsv,
  type PrepareOptions,
} from "../../../src/index.js";
import { resolveOptions } from "../../../src/options/options.js";
import { luminanceOf, simdMemory } from "../../5-burn/burning.js";
import { photographPath } from "../../pipeline/photograph.js";
import { compare, prepare } from "../../support/prepare.js";

let boats: Uint8Array;
beforeAll(async () => {
  boats = await readFile(photographPath("nagasaki-boats"));
});

const onlyCandidate = async (photo: Uint8Array, options: CompareOptions): Promise<Candidate> =>
  (await compare(photo, options)).candidates[0];

describe("a machine that is not quite on its settings", () => {
  it("errs as its whole planes do", async () => {
    const options = {
      ...{ widthMm: 10, linesPerInch: 400, method: "ostromoukhov", material: "coated-steel", kind: "photo" },
      ...{ spotMm: { alongMm: 0.08, acrossMm: 0.12 }, spread: { common: 0.15, spot: 0.1 }, firingLagUs: 30 },
    } as const satisfies PrepareOptions;
    const { kind, ...asked } = options;
    const found = await onlyCandidate(boats, asked);
    const { wanted, bits, columns, rows } = await planesOf(boats, options);
    const { pitch, spot, motion, material } = resolveOptions(options);
    const rms = (spotFactor: number, dose: number): number => {
      const other = { alongMm: spotFactor * spot.alongMm, acrossMm: spotFactor * spot.acrossMm };
      const plan = planExposure(pitch, other, motion, { material });
      const predicted = luminanceOf(plan, material.curve, bits, columns, rows, dose, simdMemory);
      const viewing = { distanceMm: 300, luminanceCdPerM2: 50 };
      return visualErrors([predicted], wanted, columns, { pitch, viewing })[0].rms;
    };
    expect(found.visualErrorUnderdosed).toBeCloseTo(rms(1, 0.85), 4);
    expect(found.visualErrorOverdosed).toBeCloseTo(rms(1, 1.15), 4);
    expect(found.visualErrorSmallerSpot).toBeCloseTo(rms(0.9, 1), 4);
    expect(found.visualErrorLargerSpot).toBeCloseTo(rms(1.1, 1), 4);
    expect(found.expectedVisualError).toBeCloseTo(Math.hypot(found.unevenness, found.toneShift / 3), 12);
  });

  it("errs on a solid piece by what its material does at these doses, and hardly by focus", async () => {
    const black = await sharp({ create: { width: 200, height: 200, channels: 3, background: "black" } })
      .png()
      .toBuffer();
    const response = [
      [0, 0.64],
      [0.92, 0.16],
      [1, 0.1],
      [1.08, 0.07],
    ] as const;
    const found = await onlyCandidate(black, {
      ...{ widthMm: 20, linesPerInch: 635, method: "bayer-8", autoTone: false },
      material: { name: "known", response, bareColor: "#ffffff", markedColor: "#000000", source: "made up" },
    });
    // Five lines per two spots: ripple of 1e-4. The border of the piece adds a little, because its spots have no neighbours.
    const step = (dose: number): number =>
      Math.abs(lightnessFromLuminance(dose) - lightnessFromLuminance(0.1));
    expect(Math.abs(found.visualErrorRms)).toBeLessThan(0.25);
    expect(Math.abs(found.visualErrorUnderdosed - step(0.16))).toBeLessThan(0.25);
    expect(Math.abs(found.visualErrorOverdosed - step(0.07))).toBeLessThan(0.25);
    expect(found.visualErrorSmallerSpot).toBeLessThan(0.25);
    expect(found.visualErrorLargerSpot).toBeLessThan(0.25);
  });
});

describe("the beam", () => {
  it("is switched as often, and as briefly, as the bitmap says", async () => {
    const options = { widthMm: 10, linesPerInch: 254, method: "green-noise" } as const;
    const machine = { firingLagUs: 25, firingLossUs: 40, speedMmPerS: 400 };
    const { switching } = await onlyCandidate(boats, { ...options, ...machine });
    const { bitmap, report } = await prepare(boats, {
      ...options,
      ...machine,
      kind: "photo",
      bitmapOnly: true,
    });
    const { columns, rows } = report.job;
    const bits = denseData(bitmap);
    const lines = Array.from({ length: rows }, (_, y) => bits.slice(y * columns, (y + 1) * columns).join(""));
    const bursts = lines.flatMap((line) => line.match(/1+/g) ?? []).map(({ length }) => length);
    const burning = lines.filter((line) => line.includes("1")).length;
    expect(switching.transitionsPerLine).toBeCloseTo((2 * bursts.length) / burning, 10);
    const shortestMm = 0.1 * Math.min(...bursts);
    expect(switching.shortestBurstMm).toBeCloseTo(shortestMm, 10);
    expect(switching.shortestBurstUs).toBeCloseTo((shortestMm / 400) * 1e6, 6);
    expect(switching.shortestBurstInLags).toBeCloseTo(((shortestMm / 400) * 1e6) / 25, 8);
    expect(switching.shortestBurstInLosses).toBeCloseTo(((shortestMm / 400) * 1e6) / 40, 8);
    const meanPx = bursts.reduce((sum, length) => sum + length, 0) / bursts.length;
    expect(switching.meanBurstMm).toBeCloseTo(0.1 * meanPx, 10);
  });

  it("has no lag to be held against where none is given", async () => {
    const { switching } = await onlyCandidate(boats, { widthMm: 5, method: "bayer-8" });
    expect(switching.shortestBurstInLags).toBeUndefined();
    expect(switching.shortestBurstInLosses).toBeUndefined();
  });
});

describe("tints", () => {
  it("of 50 and 85 L* are made by the candidate's own method at its own grid", async () => {
    const { candidates } = await compare(boats, {
      widthMm: 5,
      linesPerInch: 635,
      method: ["floyd-steinberg", "clustered-dot", "blue-noise"],
    });
    for (const { tints, method } of candidates) {
      expect([tints.mid.photoLightness, tints.light.photoLightness]).toEqual([50, 85]);
      const [mid, light] = [tints.mid.texture?.fraction ?? 0, tints.light.texture?.fraction ?? 0];
      expect(mid).toBeGreaterThan(1.5 * light);
      expect(light).toBeGreaterThan(0.01);
      const peak = (tints.mid.texture?.peakFrequency ?? 0) / (tints.mid.texture?.principalFrequency ?? 1);
      if (method === "clustered-dot") expect(peak).toBeLessThan(0.6);
      else expect(peak).toBeGreaterThan(0.8);
    }
    const [diffused, screened] = candidates;
    expect(screened.tints.mid.texture?.anisotropyDb).toBeGreaterThan(
      (diffused.tints.mid.texture?.anisotropyDb ?? 0) + 3,
    );
    expect(screened.tints.mid.graininess).toBeGreaterThan(diffused.tints.mid.graininess);
  });

  it("from further away have less grain", async () => {
    const options = { widthMm: 5, linesPerInch: 150, method: "clustered-dot" } as const;
    const [near, far] = await Promise.all(
      [300, 1200].map((viewDistanceMm) => onlyCandidate(boats, { ...options, viewDistanceMm })),
    );
    expect(far.tints.mid.graininess).toBeLessThan(near.tints.mid.graininess / 3);
  });
});

describe("tones that a method does not make", () => {
  it("leave the held tones of a plain threshold and of a small mask untold", async () => {
    const made = await compare(boats, {
      widthMm: 5,
      method: ["threshold", "bayer-2", "floyd-steinberg"],
    });
    const [threshold, bayer, diffused] = made.candidates;
    // 2 × 2 pixels have five tones.
    expect([threshold.differentTints, bayer.differentTints]).toEqual([2, 5]);
    expect(diffused.differentTints).toBeUndefined();
    expect(threshold.tints.mid.texture).toBeUndefined();
    const lines = comparisonCsv(made)
      .split("\r\n")
      .map((line) => line.split(","));
    const held = lines[0].indexOf("heldAt1mm");
    expect(lines.slice(1, 4).map((line) => line[held] === "")).toEqual([true, true, false]);
  });
});
