import { describe, expect, it } from "vitest";
import { decisionState } from "../../src/4-halftone/dose-feedback.js";
import { decideDoseRow } from "../../src/4-halftone/dose-feedback-kernels.js";
import { DoseField } from "../../src/4-halftone/dose-field.js";
import { findHalftoneMethod, halftoneCodes } from "../../src/4-halftone/halftone.js";
import type { HalftoneSettings } from "../../src/4-halftone/method.js";
import { randomState } from "../../src/4-halftone/random-bits.js";
import { planExposure } from "../../src/5-burn/exposure-plan.js";
import { createSurfaceModel } from "../../src/5-burn/surface-model.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import { createResponse, type ResponsePoints } from "../../src/core/material/response.js";
import { bytesPerPackedRow, unpackBitmap, unpackRow } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import type { BeamMotion, Spot } from "../../src/core/spot.js";
import { AREA_ONE, STEPS_PER_DOSE, type SurfaceModel } from "../../src/core/surface-model.js";
import { doseOf, ideal, luminanceOf } from "../5-burn/burning.js";
import { plainMemory, simdMemory } from "../support/halftone-bits.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../support/materials.js";

const method = findHalftoneMethod("dose-feedback");
const pitch = { alongMm: 0.05, acrossMm: 0.05 };

/** A material's bare surface, and what dose 1 makes of it. */
const endsOf = (points: ResponsePoints) => ({ bare: points[0][1], solid: points[points.length - 1][1] });

function surfaceOf(
  points: ResponsePoints,
  spot: Spot,
  motion: BeamMotion = ideal,
  scan: HalftoneSettings["scan"] = "serpentine",
): SurfaceModel {
  const { bare, solid } = endsOf(points);
  return createSurfaceModel({ pitch, spot, motion }, createResponse(points), { bare, solid }, scan);
}

const settingsFor = (surface: SurfaceModel, spot: Spot, changes: Partial<HalftoneSettings> = {}) =>
  halftoneSettings({ pitch, spot, surface: () => surface, ...changes });

function picture(columns: number, rows: number, seed: number, least = 0, most = 1): Int16Array {
  const random = seededRandom(seed);
  return Int16Array.from({ length: columns * rows }, () =>
    Math.round(FRACTION_ONE * (least + (most - least) * random())),
  );
}

const round = (spotPx: number): Spot => ({ alongMm: spotPx * 0.05, acrossMm: spotPx * 0.05 });
const lagging: BeamMotion = {
  speedMmPerS: 500,
  firingLagUs: 80,
  firingLossUs: 0,
  lineShiftMm: 0.02,
  oneWay: false,
};

/** A source that starts later than it stops, by the time of `px` pixels. */
const losing = (px: number, changes: Partial<BeamMotion> = {}): BeamMotion => ({
  ...{ ...ideal, speedMmPerS: 500, firingLossUs: (px * 0.05 * 1e6) / 500 },
  ...changes,
});

describe("in both forms", () => {
  it.each([
    ["a spot 2.3 pixels wide", round(2.3), ideal, steepPoints],
    ["one of 4.6", round(4.6), ideal, gradualPoints],
    ["one of 0.6, where lines stand apart", round(0.6), ideal, steepPoints],
    ["an ellipse, with lag and shifted lines", { alongMm: 0.08, acrossMm: 0.16 }, lagging, lighteningPoints],
    ["a source that starts late", round(2.3), losing(0.4), steepPoints],
    ["one that starts late by more than two pixels", round(2.3), losing(2.3), gradualPoints],
    ["one that stops late", { alongMm: 0.08, acrossMm: 0.16 }, losing(-0.7), steepPoints],
    ["one that stops late by more than a pixel", round(4.6), losing(-1.4), steepPoints],
  ] as const)("the same bytes: %s", (_, spot, motion, points) => {
    const settings = settingsFor(surfaceOf(points, spot, motion), spot);
    for (const [columns, rows] of [
      [1, 40],
      [7, 3],
      [33, 50],
      [130, 20],
    ]) {
      const fractions = picture(columns, rows, columns).map((code, i) =>
        i % 17 === 0 ? -1 : i % 19 === 0 ? FRACTION_ONE : code,
      );
      const plain = halftoneCodes(method, { codes: fractions, columns, rows }, settings, plainMemory);
      const simd = halftoneCodes(method, { codes: fractions, columns, rows }, settings, simdMemory);
      expect(simd.bytes).toEqual(plain.bytes);
    }
  });
});

/*
 * The plain form, as defined: burn when u ≥ dA/2, e = u − dA or u. dA is the area that the pixel adds to earlier pixels. Pixels that
 * add less than `minAdded` are skipped. Whole plane, no expected dose, Sierra Lite's stencil, serpentine. The method equals this
 * form if tints are expected to burn nothing.
 */
function plainMarginalForm(
  surface: SurfaceModel,
  fractions: Int16Array,
  columns: number,
  rows: number,
  minAdded = 0,
) {
  const { samplesAlong, samplesAcross, stepBits, areaByDose, evenLines } = surface;
  const margin = 20;
  const width = (columns + 2 * margin) * samplesAlong;
  const dose = new Int32Array(width * (rows + 2 * margin) * samplesAcross);
  const bits = new Uint8Array(columns * rows);
  const area = (at: number) => areaByDose[at >> stepBits];
  const errors = Array.from({ length: rows + 1 }, () => new Int32Array(columns + 2));
  for (let y = 0; y < rows; y++) {
    const step = y % 2 === 0 ? 1 : -1;
    for (let n = 0; n < columns; n++) {
      const x = step === 1 ? n : columns - 1 - n;
      const placed = [...evenLines.dose].map((own, k) => ({
        own,
        at:
          ((y + margin) * samplesAcross + evenLines.across[k]) * width +
          (x + margin) * samplesAlong +
          evenLines.along[k],
      }));
      const added = placed.reduce((sum, { own, at }) => sum + area(dose[at] + own) - area(dose[at]), 0);
      const u = (fractions[y * columns + x] * AREA_ONE) / FRACTION_ONE + errors[y][x + 1];
      const burned = added >= minAdded && u >= Math.floor(added / 2);
      if (burned) {
        bits[y * columns + x] = 1;
        for (const { own, at } of placed) dose[at] += own;
      }
      // Limit: four times the area that the pixel could add.
      const error = Math.min(4 * added, Math.max(-4 * added, u - (burned ? added : 0)));
      const half = Math.floor(error / 2);
      const quarter = Math.floor(error / 4);
      const isLast = n === columns - 1;
      if (isLast) errors[y + 1][x + 1] += half;
      else errors[y][x + step + 1] += half;
      errors[y + 1][(n === 0 ? x : x - step) + 1] += quarter;
      errors[y + 1][x + 1] += error - half - quarter;
    }
  }
  return bits;
}

describe("without expectation", () => {
  it.each([
    ["gradual", gradualPoints],
    ["steep", steepPoints],
  ] as const)("is the plain marginal form, %s", (_, points) => {
    const spot = round(2);
    const surface = { ...surfaceOf(points, spot), expectedShare: new Int16Array(FRACTION_ONE + 1) };
    const [columns, rows] = [70, 60];
    const fractions = picture(columns, rows, 3, 0.02, 0.7);
    // Said to be as wide as a pixel: without noise.
    const settings = settingsFor(surface, round(1));
    const band = method.start({ columns, rows, bandRows: rows + 40, memory: plainMemory }, settings);
    band.fractions.set(fractions);
    band.run(0, rows + band.delayRows);
    const stride = bytesPerPackedRow(columns);
    const bytes = band.packed.slice(band.delayRows * stride, (rows + band.delayRows) * stride);
    const bits = unpackBitmap({ columns, rows, levels: 2, stride, bytes });
    expect(bits).toEqual(plainMarginalForm(surface, fractions, columns, rows));
  });
});

/* The gradual material shows nothing up to a dose of 0.12; the steep one 1.5 % of all there is to see. */
describe.each([
  ["gradual", gradualPoints, 1e-3],
  ["steep", steepPoints, 0.1],
] as const)("where a lone dot leaves no mark, %s", (_, points, loneArea) => {
  const spot = round(4.6);
  const response = createResponse(points);
  const plan = planExposure(pitch, spot, ideal);
  const { bare, solid } = endsOf(points);
  const surface = surfaceOf(points, spot);
  const [side, margin] = [96, 24];
  const inner = (side - 2 * margin) ** 2;

  /** Mean marked area inside the margin, by the exposure stage. */
  function areaOf(bits: Uint8Array): number {
    const luminance = luminanceOf(plan, response, bits, side, side);
    let sum = 0;
    for (let y = margin; y < side - margin; y++) {
      for (let x = margin; x < side - margin; x++) {
        sum += (bare - luminance[y * side + x]) / (bare - solid);
      }
    }
    return sum / inner;
  }
  const tint = (asked: number, of: SurfaceModel): Uint8Array => {
    const fractions = new Int16Array(side * side).fill(Math.round(asked * FRACTION_ONE));
    return unpackBitmap(
      halftoneCodes(
        method,
        { codes: fractions, columns: side, rows: side },
        settingsFor(of, spot),
        simdMemory,
      ),
    );
  };

  it("its marginal area is next to nothing, and large among other dots", () => {
    const lone = new Uint8Array(side * side);
    lone[(side / 2) * side + side / 2] = 1;
    // A Gaussian with σ = 4.6 / 4 pixels that holds the dose of one pixel has the peak 1 / 2πσ² = 0.1203.
    expect(Math.max(...doseOf(plan, lone, side, side))).toBeLessThan(0.1203);
    expect(Math.abs(areaOf(lone) * inner)).toBeLessThan(loneArea);
    const half = tint(0.5, surface);
    const at = half.findIndex((bit, i) => bit === 0 && i > (side / 2) * side + side / 2);
    const more = half.slice();
    more[at] = 1;
    expect((areaOf(more) - areaOf(half)) * inner).toBeGreaterThan(0.8);
  });

  it.each([0.01, 0.03, 0.1, 0.3, 0.5, 0.8, 0.97])("a tint of %f comes out as asked for", (asked) => {
    expect(Math.abs(areaOf(tint(asked, surface)) - asked)).toBeLessThan(0.01);
  });

  it("so the plain form that passes by such dots burns none at all", () => {
    const fractions = new Int16Array(40 * 40).fill(FRACTION_ONE / 2);
    const least = 2 * loneArea * AREA_ONE;
    expect(plainMarginalForm(surface, fractions, 40, 40, least).indexOf(1)).toBe(-1);
  });
});

/*
 * Area is counted once: the final marked area, with the area beyond the edges, is the wanted area for any expected shares. Measured
 * by the exposure stage, with a wide bare margin around the picture.
 */
describe("tracks the marked area", () => {
  it.each([
    ["steep, 4.6 pixels", steepPoints, round(4.6), 1],
    ["gradual, 2.6 pixels", gradualPoints, round(2.6), 1],
    ["lightening, an ellipse", lighteningPoints, { alongMm: 0.12, acrossMm: 0.2 }, 1],
    ["steep, and tints expected to burn half of what they do", steepPoints, round(4.6), 0.5],
  ] as const)("%s: the area of noise is what was asked for", (_, points, spot, expected) => {
    const [columns, rows, margin] = [160, 120, 16];
    const whole = surfaceOf(points, spot);
    const surface = { ...whole, expectedShare: whole.expectedShare.map((share) => expected * share) };
    const fractions = picture(columns, rows, 8, 0.1, 0.9);
    const settings = settingsFor(surface, spot);
    const bits = unpackBitmap(
      halftoneCodes(method, { codes: fractions, columns, rows }, settings, simdMemory),
    );
    const width = columns + 2 * margin;
    const padded = new Uint8Array(width * (rows + 2 * margin));
    for (let y = 0; y < rows; y++) {
      padded.set(bits.subarray(y * columns, (y + 1) * columns), (y + margin) * width + margin);
    }
    const plan = planExposure(pitch, spot, ideal);
    const luminance = luminanceOf(plan, createResponse(points), padded, width, rows + 2 * margin);
    const { bare, solid } = endsOf(points);
    const marked = luminance.reduce((sum, value) => sum + (bare - value) / (bare - solid), 0);
    const asked = fractions.reduce((sum, code) => sum + code / FRACTION_ONE, 0);
    expect(Math.abs(marked / asked - 1)).toBeLessThan(0.004);
  });

  // The area of noise as above, where bursts lose or gain at their ends.
  it.each([0.4, 0.9, 1.6, -0.6])("so it does where bursts are %d pixels shorter", (px) => {
    const [columns, rows, margin] = [160, 120, 16];
    const spot = round(2.6);
    for (const changes of [{}, { oneWay: true }]) {
      const motion = losing(px, changes);
      const fractions = picture(columns, rows, 8, 0.1, 0.9);
      const settings = settingsFor(surfaceOf(gradualPoints, spot, motion), spot);
      const bits = unpackBitmap(
        halftoneCodes(method, { codes: fractions, columns, rows }, settings, simdMemory),
      );
      const width = columns + 2 * margin;
      const padded = new Uint8Array(width * (rows + 2 * margin));
      for (let y = 0; y < rows; y++) {
        padded.set(bits.subarray(y * columns, (y + 1) * columns), (y + margin) * width + margin);
      }
      const plan = planExposure(pitch, spot, motion);
      const luminance = luminanceOf(plan, createResponse(gradualPoints), padded, width, rows + 2 * margin);
      const { bare, solid } = endsOf(gradualPoints);
      const marked = luminance.reduce((sum, value) => sum + (bare - value) / (bare - solid), 0);
      const asked = fractions.reduce((sum, code) => sum + code / FRACTION_ONE, 0);
      expect(Math.abs(marked / asked - 1)).toBeLessThan(0.01);
    }
  });

  /* At these spots the exposure stage has the same samples. It is tested against brute force elsewhere. */
  it.each<[string, Spot, BeamMotion, HalftoneSettings["scan"]?]>([
    ["round, 2.6 pixels", round(2.6), ideal],
    ["round, 6 pixels", round(6), ideal],
    ["an ellipse, with lag and shifted lines", { alongMm: 0.13, acrossMm: 0.3 }, lagging],
    // Odd lines are decided in the direction of travel, or against it.
    ...[0.35, 2.2, -0.6].flatMap((px): [string, Spot, BeamMotion, HalftoneSettings["scan"]?][] => [
      [`bursts ${px} pixels shorter`, round(2.6), losing(px)],
      [`bursts ${px} pixels shorter, one-way`, round(2.6), losing(px, { oneWay: true })],
      [`bursts ${px} pixels shorter, raster`, round(2.6), losing(px, { lineShiftMm: 0.02 }), "raster"],
      [`bursts ${px} pixels shorter, one-way raster`, round(2.6), losing(px, { oneWay: true }), "raster"],
    ]),
    ["shorter bursts and a lag", round(2.6), losing(0.5, { firingLagUs: 60 })],
  ])("its dose is that of the exposure stage: %s", (_, spot, motion, scan = "serpentine") => {
    const surface = surfaceOf(steepPoints, spot, motion, scan);
    const plan = planExposure(pitch, spot, motion);
    expect([plan.samplesAlong, plan.samplesAcross]).toEqual([surface.samplesAlong, surface.samplesAcross]);
    const [columns, rows] = [48, 40];
    const field = new DoseField(surface, columns, rows, simdMemory);
    const state = decisionState(columns, settingsFor(surface, spot), simdMemory);
    const fractions = picture(columns, rows, 5, 0, 0.9);
    const packed = simdMemory.uint8(bytesPerPackedRow(columns));
    const bits = new Uint8Array(columns * rows);
    for (let y = 0; y < rows; y++) {
      field.enter(fractions, y * columns, y);
      const decided = y - field.delayRows;
      if (decided < 0) continue;
      const row = {
        fractions,
        from: 0,
        packed,
        to: 0,
        y: decided,
        backward: scan === "serpentine" && decided % 2 === 1,
      };
      decideDoseRow(field, state, row, randomState(1, decided * columns));
      unpackRow(packed, 0, columns, bits, decided * columns);
    }
    // Rows out of reach of those not yet decided, and still held.
    const last = rows - 1 - field.delayRows;
    const final = last - field.delayRows / 2;
    const wanted = doseOf(plan, bits, columns, rows, final, final + 1);
    const { samplesAlong, samplesAcross, stepBits } = surface;
    const first = field.footprint(final);
    const lone = first.across.indexOf(0);
    const start = first.places[lone] - first.along[lone];
    const stride = (columns + 2 * reachColumns(surface)) * samplesAlong;
    const worst = { is: 0 };
    for (let line = 0; line < samplesAcross; line++) {
      for (let i = 0; i < columns * samplesAlong; i++) {
        const got = field.dose[start + line * stride + i] / (STEPS_PER_DOSE * 2 ** stepBits);
        worst.is = Math.max(worst.is, Math.abs(got - wanted[line * columns * samplesAlong + i]));
      }
    }
    // The footprint's cut tails, 0.6 % of its dose.
    expect(worst.is).toBeLessThan(0.01);
  });
});

const reachColumns = ({ evenLines, oddLines, samplesAlong }: SurfaceModel): number =>
  Math.max(
    ...[...evenLines.along, ...oddLines.along].map((along) => Math.abs(Math.floor(along / samplesAlong))),
  );

describe("at the edges of a tint", () => {
  it.each([
    ["gradual, a spot of 2.3 pixels", gradualPoints, 2.3],
    ["steep, a spot of 2.3 pixels", steepPoints, 2.3],
    ["steep, a spot of 4.6 pixels", steepPoints, 4.6],
  ] as const)("%s: burns evenly from the first row to the last, side to side", (_, points, spotPx) => {
    const side = 256;
    const spot = round(spotPx);
    for (const asked of [0.1, 0.3, 0.8]) {
      const fractions = new Int16Array(side * side).fill(Math.round(asked * FRACTION_ONE));
      const settings = settingsFor(surfaceOf(points, spot), spot);
      const bits = unpackBitmap(
        halftoneCodes(method, { codes: fractions, columns: side, rows: side }, settings, simdMemory),
      );
      const share = (left: number, top: number, right: number, bottom: number): number => {
        let sum = 0;
        for (let y = top; y < bottom; y++) for (let x = left; x < right; x++) sum += bits[y * side + x];
        return sum / ((right - left) * (bottom - top));
      };
      const inside = share(20, 20, side - 20, side - 20);
      const edge = 8;
      for (const strip of [
        share(0, 0, side, edge),
        share(0, side - edge, side, side),
        share(0, 0, edge, side),
        share(side - edge, 0, side, side),
      ]) {
        // Where dose falls off towards an edge, area falls off more: a spot's width burns up to a fifth more to make that good.
        expect(strip / inside).toBeGreaterThan(0.88);
        expect(strip / inside).toBeLessThan(1.2);
      }
    }
  });
});
