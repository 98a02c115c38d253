import type { HalftoneFunction } from "../../src/5-burn/flat-patch.js";
import { FRACTION_ONE } from "../../src/core/burn-fraction.js";
import type { ResponsePoints } from "../../src/core/material/response.js";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import type { Pitch } from "../../src/core/plane.js";
import type { Spot } from "../../src/core/spot.js";
import type { Spread } from "../../src/core/spread.js";
import { meanOver } from "./burning.js";
import { directApertureMeans, recurrentPlaces } from "./direct-apertures.js";
import { type ReferenceCase, simulateCases } from "./reference-cases.js";

export interface TintedPatches {
  /** Of each patch, as shares of 1. */
  readonly fractions: readonly number[];
  readonly halftone: HalftoneFunction;
  readonly points: ResponsePoints;
  readonly pitch: Pitch;
  readonly spot: Spot;
  readonly spread: Spread;
  /** Factor on the samples of the simulation, which has five per spot. */
  readonly sampling: number;
}

export const DETAIL_SIDES_MM = [0.15, 0.25, 0.5, 1];
/** Patches of 6 mm with a margin that no edge reaches through. */
const PATCH_MM = 6;
const MARGIN_PX = 24;

/** CIE 1976 lightness above the knee (CIE 15), written out again. */
export const lightness = (y: number) => 116 * Math.cbrt(y) - 16;

export function variance(values: readonly number[]): number {
  const mean = meanOver(values);
  return meanOver(values.map((value) => (value - mean) ** 2));
}

/** A patch at one dose: L*, its slope over ln dose, and the standard deviation of L* between apertures of each side. */
export interface DirectTint {
  readonly lightness: number;
  readonly slope: number;
  readonly grains: readonly number[];
}

/** 1 + Σ |ΔL*| / √(1 + 4(σ̄² + variance of ln dose · mean squared slope)). */
export function countDirectly(tints: readonly DirectTint[], side: number, doseVariance: number): number {
  return tints.slice(1).reduce((sum, tint, k) => {
    const before = tints[k];
    const grain = (tint.grains[side] + before.grains[side]) / 2;
    const wander = (doseVariance * (tint.slope ** 2 + before.slope ** 2)) / 2;
    return sum + Math.abs(tint.lightness - before.lightness) / Math.sqrt(1 + 4 * (grain ** 2 + wander));
  }, 1);
}

/** Midpoint rule. */
function integral(from: number, to: number, steps: number, value: (x: number) => number): number {
  const step = (to - from) / steps;
  return (
    step * Array.from({ length: steps }, (_, i) => value(from + (i + 0.5) * step)).reduce((a, b) => a + b)
  );
}

/** Variance of ln dose between apertures: pairs of points of the local field, and squared weights of the lines. */
function directVariance(side: number, pitchMm: number, spotMm: number, spread: Spread): number {
  const { local, localLengthMm, line } = spread;
  const distances = (t: number) => (side - t) * Math.exp(-((t / localLengthMm) ** 2));
  const pairs = (2 / side ** 2) * integral(0, side, 500, distances);
  const sigma = spotMm / 4;
  const profile = (y: number) => Math.exp(-0.5 * (y / sigma) ** 2) / (sigma * Math.sqrt(2 * Math.PI));
  const reach = Math.ceil((side + 2 * spotMm) / pitchMm) + 1;
  const lines = integral(-reach, reach, 40 * reach, (at) => {
    const within = integral(at * pitchMm, at * pitchMm + side, 200, profile);
    return ((pitchMm * within) / side) ** 2;
  });
  return (local * pairs) ** 2 + line ** 2 * lines;
}

/** Slope at one of three points of the parabola through them: Lagrange's polynomial and a tiny difference. */
function slopeAt(at: number, xs: readonly number[], ys: readonly number[]): number {
  const polynomial = (x: number) =>
    ys.reduce((sum, y, k) => {
      const others = xs.filter((_, other) => other !== k);
      return sum + others.reduce((product, other) => (product * (x - other)) / (xs[k] - other), y);
    }, 0);
  return (polynomial(at + 1e-4) - polynomial(at - 1e-4)) / 2e-4;
}

/**
 * Independent count of the tones of section 7: patches from the brute-force simulation at three doses, averaged in apertures
 * pixel by pixel. The least of three counts is held.
 */
export function directTones(given: TintedPatches) {
  const { fractions, halftone, points, pitch, spot, spread, sampling } = given;
  const [inColumns, inRows] = [pitch.alongMm, pitch.acrossMm].map((pitchMm) => Math.ceil(PATCH_MM / pitchMm));
  const [columns, rows] = [inColumns + 2 * MARGIN_PX, inRows + 2 * MARGIN_PX];
  const doses = [1, 1 - spread.common, 1 + spread.common];
  const cases: ReferenceCase[] = fractions.flatMap((fraction) => {
    const codes = new Int16Array(columns * rows).fill(Math.round(fraction * FRACTION_ONE));
    const bits = unpackBitmap(halftone(codes, columns, rows));
    // The doses of the response are divided by the dose, which has the same effect as more dose.
    return doses.map((dose) => ({
      ...{ pitch, spot, sampling, columns, rows, bits },
      points: points.map(([at, luminance]) => [at / dose, luminance] as const),
    }));
  });
  const simulated = simulateCases(cases).map(({ luminance }) =>
    luminance.filter((_, i) => {
      const [x, y] = [i % columns, Math.floor(i / columns)];
      return Math.min(x, columns - 1 - x, y, rows - 1 - y) >= MARGIN_PX;
    }),
  );
  const logs = doses.map(Math.log);
  const tints = doses.map((_, d) =>
    fractions.map((_, k): DirectTint => {
      const planes = doses.map((_, other) => simulated[doses.length * k + other]);
      const means = planes.map((plane) => lightness(meanOver(plane)));
      const grains = DETAIL_SIDES_MM.map((side) => {
        const [along, across] = [side / pitch.alongMm, side / pitch.acrossMm];
        const places = recurrentPlaces(inColumns, inRows, along, across);
        const seen = directApertureMeans(planes[d], inColumns, along, across, places);
        return Math.sqrt(variance(seen.map(lightness)));
      });
      return { lightness: means[d], slope: slopeAt(logs[d], logs, means), grains };
    }),
  );
  return DETAIL_SIDES_MM.map((side, k) => {
    const doseVariance = directVariance(side, pitch.acrossMm, spot.acrossMm, spread);
    const held = tints.map((atDose) => countDirectly(atDose, k, doseVariance));
    return { nominal: countDirectly(tints[0], k, 0), held: Math.min(...held) };
  });
}
