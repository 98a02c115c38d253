import { resampledRows } from "../src/3-resample/resample.js";
import type { SourceWindow } from "../src/3-resample/source-window.js";
import { findHalftoneMethod, halftoneCodes } from "../src/4-halftone/halftone.js";
import { HalftoneStream } from "../src/4-halftone/halftone-stream.js";
import type { HalftoneSettings, Scan } from "../src/4-halftone/method.js";
import { doseStride, exposeRows } from "../src/5-burn/exposure.js";
import { planExposure } from "../src/5-burn/exposure-plan.js";
import { BAND_ROWS, EyeFilter } from "../src/5-burn/eye-filter.js";
import { predictLuminance } from "../src/5-burn/predict.js";
import { createSurfaceModel } from "../src/5-burn/surface-model.js";
import { FRACTION_ONE, fractionCode } from "../src/core/burn-fraction.js";
import { createKernelMemory, type KernelForm } from "../src/core/kernel-memory.js";
import { createResponse } from "../src/core/material/response.js";
import {
  bytesPerPackedRow,
  countBurned,
  type PackedBitmap,
  packedRow,
  unpackBitmap,
} from "../src/core/packed-bits.js";
import { seededRandom } from "../src/core/random.js";
import { type Kernel, meanOf, timed } from "./kernel-timing.js";
import { blurName, PILLOW_DIFFUSION } from "./other-kernels.js";
import { LINES_PER_INCH } from "./setting.js";

/** A picture of values 0..1, row-major. */
export interface Picture {
  readonly values: Float32Array;
  readonly columns: number;
  readonly rows: number;
}

const PITCH = { alongMm: 25.4 / LINES_PER_INCH, acrossMm: 25.4 / LINES_PER_INCH };
const SPOT = { alongMm: 0.1, acrossMm: 0.1 };
const AT_REST = { speedMmPerS: 300, firingLagUs: 0, firingLossUs: 0, lineShiftMm: 0, oneWay: false };
const wood = createResponse([
  [0, 0.55],
  [0.12, 0.55],
  [0.3, 0.327],
  [0.6, 0.157],
  [1, 0.08],
]);
const surface = createSurfaceModel({ pitch: PITCH, spot: SPOT, motion: AT_REST }, wood, {
  bare: 0.55,
  solid: 0.08,
});
const settingsFor = (scan: Scan): HalftoneSettings => ({
  pitch: PITCH,
  spot: SPOT,
  scan,
  seed: 1,
  levels: 2,
  screenLinesPerInch: 100,
  screenAngleDeg: 45,
  clumping: 1,
  ringColumns: 0,
  surface: () => surface,
});

const formNames: Readonly<Record<KernelForm, string>> = { plain: "plain", simd: "SIMD" };

/** Values 0.1 to 0.9 rising to the right, with noise. */
export function grading(columns: number, rows: number): Picture {
  const random = seededRandom(7);
  const values = Float32Array.from(
    { length: columns * rows },
    (_, i) => 0.15 + (0.7 * (i % columns)) / columns + 0.05 * (random() - random()),
  );
  return { values, columns, rows };
}

const codesOf = ({ values }: Picture): Int16Array => Int16Array.from(values, fractionCode);

export const dithered = (picture: Picture): PackedBitmap =>
  halftoneCodes(
    findHalftoneMethod("floyd-steinberg"),
    { codes: codesOf(picture), columns: picture.columns, rows: picture.rows },
    settingsFor("serpentine"),
  );

export const greyOf = (bitmap: PackedBitmap): Uint8Array => unpackBitmap(bitmap).map((bit) => 255 * bit);

/** Fractions to packed bits, band by band as in a job. The time includes the copies into and out of the band. */
export function halftoneKernel(form: KernelForm, id: string, picture: Picture, scan: Scan): Kernel {
  const { columns, rows } = picture;
  const codes = codesOf(picture);
  const memory = createKernelMemory(form);
  const stride = bytesPerPackedRow(columns);
  const out = new Uint8Array(stride * rows);
  const stream = new HalftoneStream(
    findHalftoneMethod(id),
    { columns, rows },
    settingsFor(scan),
    (packed, y, count) => out.set(packed.subarray(0, count * stride), y * stride),
    memory,
  );
  const run = () => {
    stream.restart();
    for (let y = 0; y < rows; y += stream.bandRows) {
      const count = Math.min(stream.bandRows, rows - y);
      stream.fractions.set(codes.subarray(y * columns, (y + count) * columns));
      stream.push(count);
    }
    return out;
  };
  return {
    name: `halftone ${id}, ${scan}`,
    form: formNames[form],
    pixels: codes.length,
    measure: timed(run, (packed) => countBurned(packed) / codes.length),
    mean: meanOf(picture.values),
    tolerance: 0.002,
    beside: PILLOW_DIFFUSION,
  };
}

/** It controls marked area, so it burns about the number of pixels that its surface model expects. */
export function doseFeedbackKernel(form: KernelForm, picture: Picture): Kernel {
  const expected = codesOf(picture).map((code) => surface.expectedShare[code]);
  return {
    ...halftoneKernel(form, "dose-feedback", picture, "serpentine"),
    mean: expected.reduce((sum, share) => sum + share, 0) / expected.length / FRACTION_ONE,
    tolerance: 0.03,
  };
}

export function resampleKernel(form: KernelForm, source: Picture, columns: number, rows: number): Kernel {
  const { values, columns: sourceColumns, rows: sourceRows } = source;
  const window: SourceWindow = { left: 0, top: 0, width: sourceColumns, height: sourceRows };
  const memory = createKernelMemory(form);
  const out = new Float32Array(columns * rows);
  const run = () => {
    const release = memory.mark();
    const row = resampledRows(
      { sourceColumns, sourceRows, window, columns, rows },
      (j, to, at, step) => {
        for (let x = 0, from = j * sourceColumns; x < sourceColumns; x++)
          to[at + x * step] = values[from + x];
      },
      memory,
    );
    for (let y = 0; y < rows; y++) out.set(row(y), y * columns);
    release();
    return out;
  };
  return {
    name: `resample, ${columns < sourceColumns ? "reduced to half" : "enlarged to double"}, lanczos3`,
    form: formNames[form],
    pixels: Math.max(values.length, out.length),
    measure: timed(run, meanOf),
    mean: meanOf(values),
    tolerance: 0.001,
  };
}

/** Dose of a bitmap at one sample per pixel, which is enough for such a wide spot. */
export function exposureKernel(form: KernelForm, bitmap: PackedBitmap, sigmaPx: number): Kernel {
  const { columns, rows } = bitmap;
  const pitchMm = 0.02;
  const spotMm = 4 * sigmaPx * pitchMm;
  const plan = planExposure(
    { alongMm: pitchMm, acrossMm: pitchMm },
    { alongMm: spotMm, acrossMm: spotMm },
    AT_REST,
  );
  if (plan.samplesAlong * plan.samplesAcross !== 1) throw new Error("not one sample a pixel");
  const memory = createKernelMemory(form);
  const out = new Float32Array(doseStride(columns) * rows);
  const run = () => {
    exposeRows(
      { plan, memory },
      { columns, rows, row: (y) => packedRow(bitmap, y) },
      { firstRow: 0, endRow: rows },
      (dose, y) => out.set(dose, y * dose.length),
    );
    return out;
  };
  return {
    name: `exposure of packed bits, one sample a pixel, σ ${sigmaPx} px`,
    form: formNames[form],
    pixels: columns * rows,
    measure: timed(run, meanOf),
    mean: meanOf(unpackBitmap(bitmap)) * keptWithin(columns, sigmaPx) * keptWithin(rows, sigmaPx),
    tolerance: 0.001,
    beside: blurName(sigmaPx),
  };
}

/** Share of a Gaussian blur that stays within so many pixels. Beyond either end lies σ/√2π, the mean of the positive half. */
const keptWithin = (pixels: number, sigmaPx: number): number =>
  1 - (2 * sigmaPx) / Math.sqrt(2 * Math.PI) / pixels;

/**
 * Dose and response of a bitmap. The response is linear, 1 − 0.4 · dose, so the mean must be 1 − 0.4 · burn fraction, except for
 * the dose beyond the edges. Its table is as slow to read as any other.
 */
export function predictionKernel(form: KernelForm, bitmap: PackedBitmap): Kernel {
  const { columns, rows } = bitmap;
  const response = createResponse([
    [0, 1],
    [2.5, 0],
  ]);
  const plan = planExposure(PITCH, SPOT, AT_REST);
  const memory = createKernelMemory(form);
  const out = new Float32Array(columns * rows);
  const run = () => {
    predictLuminance(
      { plan, response, memory },
      { columns, rows, row: (y) => packedRow(bitmap, y) },
      { firstRow: 0, endRow: rows },
      { factors: [1] },
      [out],
    );
    return out;
  };
  return {
    name: `exposure and response, ${plan.samplesAlong} × ${plan.samplesAcross} samples a pixel, one dose`,
    form: formNames[form],
    pixels: out.length,
    measure: timed(run, meanOf),
    mean: 1 - 0.4 * meanOf(unpackBitmap(bitmap)),
    tolerance: 0.001,
  };
}

/** A pair of square pictures through the eye filter, which keeps the mean. */
export function eyeKernel(side: number, form: KernelForm): Kernel {
  const viewing = { distanceMm: 300, luminanceCdPerM2: 10 };
  const eye = new EyeFilter({ memory: createKernelMemory(form), pitch: PITCH, viewing }, side);
  const source = Float32Array.from(grading(2 * side, side).values);
  const pixels = side * side;
  const out = new Float32Array(source.length);
  return {
    name: `eye filter, pair of tiles of ${side} × ${side}`,
    form: formNames[form],
    pixels: source.length,
    measure: timed(() => {
      for (let y = 0; y < side; y += BAND_ROWS) {
        eye.first.set(source.subarray(y * side, (y + BAND_ROWS) * side));
        eye.second.set(source.subarray(pixels + y * side, pixels + (y + BAND_ROWS) * side));
        eye.enter(y);
      }
      eye.filter();
      for (let y = 0; y < side; y += BAND_ROWS) {
        eye.leave(y);
        out.set(eye.first, y * side);
        out.set(eye.second, pixels + y * side);
      }
      return out;
    }, meanOf),
    mean: meanOf(source),
    tolerance: 1e-4,
  };
}
