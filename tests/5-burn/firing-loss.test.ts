import { describe, expect, it } from "vitest";
import { doseStride, exposeRows } from "../../src/5-burn/exposure.js";
import { type ExposurePlan, planExposure } from "../../src/5-burn/exposure-plan.js";
import { solidLuminance } from "../../src/5-burn/solid-fill.js";
import type { KernelMemory } from "../../src/core/kernel-memory.js";
import { createResponse } from "../../src/core/material/response.js";
import { packBitmap, rowsOfBitmap } from "../../src/core/packed-bits.js";
import { seededRandom } from "../../src/core/random.js";
import type { BeamMotion } from "../../src/core/spot.js";
import { gaussian, integrate } from "../support/integrate.js";
import { ideal, plainMemory, simdMemory, worstDifference } from "./burning.js";

/** Along and across cannot be mistaken for each other. */
const pitch = { alongMm: 0.04, acrossMm: 0.07 };
const spot = { alongMm: 0.09, acrossMm: 0.14 };
const SIGMA_ALONG_MM = 0.09 / 4;
const SIGMA_ACROSS_MM = 0.14 / 4;

/** Rows of power levels. */
interface Piece {
  readonly columns: number;
  readonly rows: number;
  readonly levels: number;
  readonly map: Uint8Array;
  readonly closed?: boolean;
}

function pieceOf(columns: number, rows: number, levels: number, share: number, seed = 1): Piece {
  const random = seededRandom(seed);
  // Runs of several lengths, with changes of power inside.
  const map = new Uint8Array(columns * rows);
  for (let i = 0, on = false; i < map.length; i++) {
    if (random() < (on ? 0.6 * (1 - share) : 0.6 * share)) on = !on;
    map[i] = on ? 1 + Math.floor((levels - 1) * random()) : 0;
  }
  return { columns, rows, levels, map };
}

/** The finely sampled dose of a piece, in the order of the samples. */
function doseOf(plan: ExposurePlan, piece: Piece, memory: KernelMemory = simdMemory): Float32Array {
  const { columns, rows, levels, map, closed } = piece;
  const { samplesAlong, samplesAcross } = plan;
  const width = columns * samplesAlong;
  const stride = doseStride(columns);
  const out = new Float32Array(width * rows * samplesAcross);
  const bitmap = rowsOfBitmap(packBitmap(map, columns, rows, levels), closed);
  exposeRows({ plan, memory }, bitmap, { firstRow: 0, endRow: rows }, (dose, y, t) => {
    const from = (y * samplesAcross + t) * width;
    for (let i = 0; i < width; i++) {
      out[from + i] = dose[(i % samplesAlong) * stride + Math.floor(i / samplesAlong)];
    }
  });
  return out;
}

/** A stretch of a line during which the source is on, in mm in the direction of travel, at one power. */
interface Lit {
  from: number;
  to: number;
  readonly power: number;
}

/**
 * What the source does along a line, by its definition: it starts `lossMm` after it is told to, and stops when it is told to; or it
 * starts at once and stops `−lossMm` late, at the power of the last pixel, unless it was told to go on before.
 *
 * @param powers of the pixels in the order of travel; pixel n runs from (n − 1/2) to (n + 1/2) pitches
 */
function litStretches(powers: readonly number[], lossMm: number): Lit[] {
  const lit: Lit[] = [];
  const edge = (n: number) => (n - 0.5) * pitch.alongMm;
  for (let n = 0; n < powers.length; n++) {
    if (powers[n] === 0) continue;
    const start = n;
    while (n < powers.length && powers[n] !== 0) n++;
    let next = n;
    while (next < powers.length && powers[next] === 0) next++;
    const nextStart = next < powers.length ? edge(next) : Number.POSITIVE_INFINITY;
    const burstFrom = edge(start) + Math.max(0, lossMm);
    for (let k = start; k < n; k++) {
      const from = Math.max(edge(k), burstFrom);
      const last = k === n - 1;
      const to = last ? Math.min(nextStart, edge(k + 1) + Math.max(0, -lossMm)) : edge(k + 1);
      if (to > from + 1e-12) lit.push({ from, to, power: powers[k] });
    }
  }
  return lit;
}

/** erf by Simpson's rule from its definition. */
const erfKnown = new Map<string, number>();
function erf(z: number): number {
  if (Math.abs(z) > 6) return Math.sign(z);
  const key = z.toFixed(10);
  const known = erfKnown.get(key) ?? (2 / Math.sqrt(Math.PI)) * integrate((t) => Math.exp(-t * t), 0, z, 200);
  erfKnown.set(key, known);
  return known;
}

/** Dose at x of a source that is on from `from` to `to`: an erf difference, and the same late by an exponential time. */
function doseOfLit(x: number, { from, to, power }: Lit, lagMm: number): number {
  const root = Math.SQRT2 * SIGMA_ALONG_MM;
  const atOnce = (at: number) => (erf((at - from) / root) - erf((at - to) / root)) / 2;
  if (lagMm === 0) return power * atOnce(x);
  // Beyond six of its deviations at both ends the source adds nothing. The steps are the same for all, which serves `erf`.
  const step = 0.02;
  const first = 2 * Math.max(0, Math.floor((x - to - 6 * root) / lagMm / step / 2));
  const last = 2 * Math.min(600, Math.ceil((x - from + 6 * root) / lagMm / step / 2));
  if (last <= first) return 0;
  const late = (t: number) => Math.exp(-t) * atOnce(x - lagMm * t);
  return power * integrate(late, first * step, last * step, last - first);
}

const sampleAt = (sample: number, perPixel: number): number => (sample + 0.5) / perPixel - 0.5;

/** Every sample of every row, every lit stretch of every line. */
function directDose(plan: ExposurePlan, piece: Piece, motion: BeamMotion): Float64Array {
  const { columns, rows, levels, map, closed } = piece;
  const { samplesAlong, samplesAcross } = plan;
  const lossMm = motion.speedMmPerS * motion.firingLossUs * 1e-6;
  const lagMm = motion.speedMmPerS * motion.firingLagUs * 1e-6;
  const width = columns * samplesAlong;
  // A closed row goes on: three turns, of which the middle one counts.
  const turns = closed ? 3 : 1;
  const lines = Array.from({ length: rows }, (_, j) => {
    const back = j % 2 === 1 && !motion.oneWay;
    const shiftMm = back ? motion.lineShiftMm : 0;
    const once = [...map.subarray(j * columns, (j + 1) * columns)].map((level) => level / (levels - 1));
    const row = Array.from({ length: turns }, () => once).flat();
    const lit = litStretches(back ? row.toReversed() : row, lossMm);
    const first = Math.floor(turns / 2) * columns;
    return Float64Array.from({ length: width }, (_, i) => {
      const px = first + Math.floor(i / samplesAlong) + sampleAt(i % samplesAlong, samplesAlong);
      const travelledMm = back
        ? (row.length - 1 - px) * pitch.alongMm + shiftMm
        : px * pitch.alongMm - shiftMm;
      return lit.reduce((sum, one) => sum + doseOfLit(travelledMm, one, lagMm), 0);
    });
  });
  const out = new Float64Array(width * rows * samplesAcross);
  for (let n = 0; n < out.length; n++) {
    const yPx = sampleAt(Math.floor(n / width), samplesAcross);
    for (let j = 0; j < rows; j++) {
      out[n] += pitch.acrossMm * gaussian((yPx - j) * pitch.acrossMm, SIGMA_ACROSS_MM) * lines[j][n % width];
    }
  }
  return out;
}

const TOLERANCE = 3e-6;
/** At 400 mm/s a pixel of 0.04 mm takes 100 µs. */
const losses = [30, 100, 130, 250, -30, -100, -130, -250];
const moving = (changes: Partial<BeamMotion>): BeamMotion => ({ ...ideal, ...changes });

describe("dose of a source that starts later than it stops, against its bursts one by one", () => {
  it.each([2, 7].flatMap((levels) => losses.map((firingLossUs) => [firingLossUs, levels] as const)))(
    "by %d µs, two-way, %i levels",
    (firingLossUs, levels) => {
      const motion = moving({ firingLossUs });
      const plan = planExposure(pitch, spot, motion, { levels });
      const piece = pieceOf(29, 6, levels, 0.55, levels);
      expect(worstDifference(doseOf(plan, piece), directDose(plan, piece, motion))).toBeLessThan(TOLERANCE);
    },
  );

  it.each<[string, Partial<BeamMotion>]>([
    ["one-way", { firingLossUs: 130, oneWay: true }],
    ["one-way, stopping late", { firingLossUs: -130, oneWay: true }],
    ["with shifted lines", { firingLossUs: 40, lineShiftMm: 0.023 }],
    ["stopping late, with shifted lines", { firingLossUs: -140, lineShiftMm: -0.023 }],
    ["with a lag", { firingLossUs: 60, firingLagUs: 50, lineShiftMm: 0.01 }],
    ["stopping late, with a lag", { firingLossUs: -170, firingLagUs: 50 }],
    // 12.5 time constants of 0.24 mm are 75 pixels, more than are summed tap by tap.
    ["with a lag that is summed by recursion", { firingLossUs: 130, firingLagUs: 600 }],
    ["stopping late, with a lag that is summed by recursion", { firingLossUs: -130, firingLagUs: 600 }],
  ])("%s", (_, changes) => {
    const motion = moving(changes);
    for (const levels of [2, 5]) {
      const plan = planExposure(pitch, spot, motion, { levels });
      const piece = pieceOf(23, 4, levels, 0.5, 3);
      expect(worstDifference(doseOf(plan, piece), directDose(plan, piece, motion))).toBeLessThan(TOLERANCE);
    }
  });

  it.each<[string, Partial<BeamMotion>]>([
    ["of 0.3 pixels", { firingLossUs: 30 }],
    ["of 2.5 pixels, with a long lag", { firingLossUs: 250, firingLagUs: 400 }],
    ["of 2.5 pixels, stopping late", { firingLossUs: -250 }],
    ["of 1.3 pixels, stopping late, with a long lag", { firingLossUs: -130, firingLagUs: 400 }],
  ])("on a closed row, a loss %s: bursts cross the seam", (_, changes) => {
    const motion = moving(changes);
    for (const levels of [2, 5]) {
      const plan = planExposure(pitch, spot, motion, { levels });
      const columns = 56;
      const piece = { ...pieceOf(columns, 2, levels, 0.6, 11), closed: true };
      // A burst over the seam, in both directions of travel.
      for (const x of [-2, -1, 0, 1]) piece.map[x < 0 ? columns + x : x] = levels - 1;
      for (const x of [-2, -1, 0, 1]) piece.map[x < 0 ? 2 * columns + x : columns + x] = levels - 1;
      expect(worstDifference(doseOf(plan, piece), directDose(plan, piece, motion))).toBeLessThan(TOLERANCE);
    }
  });
});

describe("both forms of the kernels", () => {
  it.each(losses)("give the same bits: a loss of %d µs", (firingLossUs) => {
    for (const [columns, rows, levels, firingLagUs] of [
      [1, 1, 2, 0],
      [7, 5, 2, 40],
      [33, 3, 9, 700],
      [70, 11, 2, 700],
    ]) {
      const plan = planExposure(pitch, spot, moving({ firingLossUs, firingLagUs }), { levels });
      const piece = pieceOf(columns, rows, levels, 0.5, columns);
      expect(doseOf(plan, piece, simdMemory)).toEqual(doseOf(plan, piece, plainMemory));
    }
  });
});

/** Sum of the dose of a whole row, in pixels at full power, with one line that burns at the middle of a bare piece. */
function pixelsOf(
  bursts: readonly (readonly [from: number, length: number])[],
  firingLossUs: number,
): number {
  const [columns, rows] = [120, 15];
  const map = new Uint8Array(columns * rows);
  for (const [from, length] of bursts) map.fill(1, 7 * columns + from, 7 * columns + from + length);
  const plan = planExposure(pitch, spot, moving({ firingLossUs, speedMmPerS: 400 }));
  const dose = doseOf(plan, { columns, rows, levels: 2, map });
  return dose.reduce((sum, value) => sum + value, 0) / (plan.samplesAlong * plan.samplesAcross);
}

describe("what a loss takes", () => {
  it("is half of a lone pixel that lasts twice as long", () => {
    expect(pixelsOf([[60, 1]], 50)).toBeCloseTo(0.5, 5);
    expect(pixelsOf([[60, 1]], -50)).toBeCloseTo(1.5, 5);
  });

  it("is all of a burst that lasts no longer, and nothing but that time of a longer one", () => {
    expect(pixelsOf([[60, 2]], 200)).toBe(0);
    expect(pixelsOf([[60, 2]], 199)).toBeCloseTo(0.01, 5);
    expect(pixelsOf([[60, 3]], 200)).toBeCloseTo(1, 5);
  });

  it("leaves of a row the sum of its bursts", () => {
    const bursts = [
      [20, 1],
      [30, 2],
      [40, 7],
      [55, 3],
    ] as const;
    // 1.3 pixels off each; the first is gone.
    expect(pixelsOf(bursts, 130)).toBeCloseTo(0.7 + 5.7 + 1.7, 5);
  });

  it("is filled in by a source that stops late: gaps no longer than that vanish", () => {
    const bursts = [
      [20, 2],
      [23, 2],
      [27, 2],
      [36, 1],
    ] as const;
    // Gaps of 1, 2 and 7 pixels; 2.4 pixels longer.
    expect(pixelsOf(bursts, -240)).toBeCloseTo(2 + 1 + 2 + 2 + 2 + 2.4 + 1 + 2.4, 5);
  });

  it("is nothing of an endless solid fill", () => {
    const response = createResponse([
      [0, 1],
      [4, 0],
    ]);
    const solid = (firingLossUs: number) =>
      solidLuminance({ plan: planExposure(pitch, spot, moving({ firingLossUs })), response });
    for (const loss of losses) expect(solid(loss)).toBeCloseTo(solid(0), 6);
  });
});

describe("a tile cut out of the picture", () => {
  it.each([250, 90, -90, -250])("is exact, within the reach of the plan: a loss of %d µs", (firingLossUs) => {
    for (const firingLagUs of [0, 50]) {
      const motion = moving({ firingLossUs, firingLagUs });
      const plan = planExposure(pitch, spot, motion);
      const { samplesAlong, samplesAcross } = plan;
      const reach = Math.max(plan.evenLines.reach, plan.oddLines.reach);
      const [columns, rows] = [160, 4];
      const whole = pieceOf(columns, rows, 2, 0.7, 5);
      // Bursts that begin outside the tile, of all lengths.
      const [left, right] = [80 - reach, 88 + reach];
      const tile: Piece = {
        ...{ columns: right - left, rows, levels: 2 },
        map: Uint8Array.from({ length: rows * (right - left) }, (_, i) => {
          const y = Math.floor(i / (right - left));
          return whole.map[y * columns + left + (i % (right - left))];
        }),
      };
      const inWhole = doseOf(plan, whole);
      const inTile = doseOf(plan, tile);
      for (let line = 0; line < rows * samplesAcross; line++) {
        const wholeFrom = line * columns * samplesAlong + 80 * samplesAlong;
        const tileFrom = line * tile.columns * samplesAlong + reach * samplesAlong;
        const length = 8 * samplesAlong;
        expect(
          worstDifference(
            inTile.subarray(tileFrom, tileFrom + length),
            inWhole.subarray(wholeFrom, wholeFrom + length),
          ),
        ).toBeLessThan(firingLagUs === 0 ? 3e-7 : 1e-5);
      }
    }
  });
});
