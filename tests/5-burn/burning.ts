import { findHalftoneMethod } from "../../src/4-halftone/halftone.js";
import { patchHalftone } from "../../src/4-halftone/patch-halftone.js";
import { doseStride, exposeRows } from "../../src/5-burn/exposure.js";
import type { ExposurePlan } from "../../src/5-burn/exposure-plan.js";
import type { HalftoneFunction } from "../../src/5-burn/flat-patch.js";
import { predictLuminance } from "../../src/5-burn/predict.js";
import { createKernelMemory, type KernelMemory } from "../../src/core/kernel-memory.js";
import type { Response } from "../../src/core/material/response.js";
import { packBitmap, packedRow } from "../../src/core/packed-bits.js";
import type { Pitch } from "../../src/core/plane.js";
import { seededRandom } from "../../src/core/random.js";
import type { BeamMotion, Spot } from "../../src/core/spot.js";
import { halftoneSettings } from "../support/halftone-settings.js";

/** A beam without lag, and lines without shift. */
export const ideal: BeamMotion = {
  speedMmPerS: 400,
  firingLagUs: 0,
  firingLossUs: 0,
  lineShiftMm: 0,
  oneWay: false,
};

export const square = (pitchMm: number): Pitch => ({ alongMm: pitchMm, acrossMm: pitchMm });
export const round = (diameterMm: number): Spot => ({ alongMm: diameterMm, acrossMm: diameterMm });

export function randomBits(columns: number, rows: number, share: number, seed = 1): Uint8Array {
  const random = seededRandom(seed);
  return Uint8Array.from({ length: columns * rows }, () => (random() < share ? 1 : 0));
}

export const simdMemory = createKernelMemory();
export const plainMemory = createKernelMemory("plain");

/** Packed rows of a row-major plane of bits, as the burn stage asks for them. */
export function rowsFrom(bits: Uint8Array, columns: number): (y: number) => Uint8Array {
  const bitmap = packBitmap(bits, columns, bits.length / columns);
  return (y) => packedRow(bitmap, y);
}

/** The finely sampled dose of rows `firstRow`..`endRow`, in the order of the samples, one line under the other. */
export function doseOf(
  plan: ExposurePlan,
  bits: Uint8Array,
  columns: number,
  rows: number,
  firstRow = 0,
  endRow = rows,
  memory: KernelMemory = simdMemory,
): Float32Array {
  const { samplesAlong, samplesAcross } = plan;
  const stride = doseStride(columns);
  const width = columns * samplesAlong;
  const out = new Float32Array(width * (endRow - firstRow) * samplesAcross);
  exposeRows(
    { plan, memory },
    { columns, rows, row: rowsFrom(bits, columns) },
    { firstRow, endRow },
    (dose, y, t) => {
      const from = ((y - firstRow) * samplesAcross + t) * width;
      for (let i = 0; i < width; i++) {
        out[from + i] = dose[(i % samplesAlong) * stride + Math.floor(i / samplesAlong)];
      }
    },
  );
  return out;
}

/** Predicted luminance factors of a whole bitmap. */
export function luminanceOf(
  plan: ExposurePlan,
  response: Response,
  bits: Uint8Array,
  columns: number,
  rows: number,
  doseFactor = 1,
  memory: KernelMemory = simdMemory,
): Float32Array {
  const out = new Float32Array(columns * rows);
  const row = rowsFrom(bits, columns);
  predictLuminance(
    { plan, response, memory },
    { columns, rows, row },
    { firstRow: 0, endRow: rows },
    { factors: [doseFactor] },
    [out],
  );
  return out;
}

/** One of the halftone methods for pixels of this pitch. */
export function halftoneOf(id: string, pitch: Pitch, spot: Spot): HalftoneFunction {
  const meanSpotMm = Math.sqrt(spot.alongMm * spot.acrossMm);
  const settings = halftoneSettings({ pitch, spot, screenLinesPerInch: 25.4 / (2.5 * meanSpotMm) });
  return patchHalftone(findHalftoneMethod(id), settings, createKernelMemory());
}

export function worstDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let worst = a.length === b.length ? 0 : Number.POSITIVE_INFINITY;
  for (let i = 0; i < a.length; i++)
    worst = Math.max(worst, Math.abs(a[i] - b[i]) || (a[i] === b[i] ? 0 : Infinity));
  return worst;
}

export function meanOver(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  return sum / values.length;
}
