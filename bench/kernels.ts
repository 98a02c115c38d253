import type { SourceWindow } from "../src/3-resample/frame.js";
import { EyeFilter } from "../src/5-burn/eye-filter.js";
import {
  createResponse,
  denseData,
  findHalftoneMethod,
  type HalftoneSettings,
  halftone,
  type Plane,
  planExposure,
  plane,
  predictLuminance,
  resample,
  seededRandom,
} from "../src/index.js";
import { shortChecksum } from "./photo.js";
import { type Spread, spreadOf } from "./statistics.js";
import { LINES_PER_INCH } from "./tools.js";

/** One loop of ours, in memory, on one core. */
interface Kernel {
  readonly name: string;
  /** Pixels handled, of the larger side where a kernel changes their number. */
  readonly pixels: number;
  /** Work on input that is made anew before every run. The result keeps the loop alive and is checked. */
  readonly run: () => Float32Array | Float64Array | Uint8Array;
  readonly setUp?: () => void;
  /** Mean that the result must have, by the mathematics of the kernel, and how closely. */
  readonly mean: number;
  readonly tolerance: number;
}

export interface KernelResult {
  readonly name: string;
  readonly megapixels: number;
  readonly checksum: string;
  readonly problem: string | undefined;
  readonly megapixelsPerS: Spread;
}

const WARM_UP_RUNS = 2;
const PITCH = { alongMm: 25.4 / LINES_PER_INCH, acrossMm: 25.4 / LINES_PER_INCH };
const SPOT = { alongMm: 0.1, acrossMm: 0.1 };
const AT_REST = { speedMmPerS: 300, firingLagUs: 0, lineShiftMm: 0, oneWay: false };
const SETTINGS: HalftoneSettings = {
  pitch: PITCH,
  spot: SPOT,
  scan: "serpentine",
  random: () => seededRandom(1),
  screenLinesPerInch: 100,
  screenAngleDeg: 45,
  clumping: 1,
};

/** Time every kernel on a picture of that many columns, of shape 4 : 3; `runs` runs after warming up. */
export function timeKernels(columns: number, runs: number): KernelResult[] {
  return kernels(columns, (columns / 4) * 3).map((kernel) => timeKernel(kernel, runs));
}

function timeKernel({ name, pixels, run, setUp, mean, tolerance }: Kernel, runs: number): KernelResult {
  setUp?.();
  const first = run();
  const measured = meanOf(first);
  const checksum = checksumOf(first);
  let problem =
    Math.abs(measured - mean) <= tolerance
      ? undefined
      : `mean ${measured} instead of ${mean} within ${tolerance}`;
  const rates: number[] = [];
  for (let i = 1; i < WARM_UP_RUNS + runs; i++) {
    setUp?.();
    const startMs = performance.now();
    const result = run();
    const elapsedMs = performance.now() - startMs;
    if (i >= WARM_UP_RUNS) rates.push(pixels / 1e3 / elapsedMs);
    if (checksumOf(result) !== checksum) problem = `other result in run ${i + 1}`;
  }
  return { name, megapixels: pixels / 1e6, checksum, problem, megapixelsPerS: spreadOf(rates) };
}

function kernels(columns: number, rows: number): Kernel[] {
  const large = grading(columns, rows);
  const small = grading(columns / 2, rows / 2);
  return [
    halftoneKernel("floyd-steinberg", "serpentine", large),
    halftoneKernel("blue-noise", "tile of 128 × 128", large),
    resampleKernel("reduced to half, lanczos3", large, columns / 2, rows / 2),
    resampleKernel("enlarged to double, lanczos3", small, columns, rows),
    exposureKernel(Math.min(1000, columns)),
    eyeKernel(columns >= 2000 ? 1024 : 512),
  ];
}

/** Values 0.1 to 0.9 rising to the right, with noise. */
function grading(columns: number, rows: number): Plane<"burn-fraction"> {
  const random = seededRandom(7);
  const values = Float32Array.from(
    { length: columns * rows },
    (_, i) => 0.15 + (0.7 * (i % columns)) / columns + 0.05 * (random() - random()),
  );
  return plane("burn-fraction", values, rows, columns, PITCH);
}

function halftoneKernel(id: string, how: string, fractions: Plane<"burn-fraction">): Kernel {
  const method = findHalftoneMethod(id);
  const values = denseData(fractions);
  return {
    name: `halftone ${id}, ${how}`,
    pixels: values.length,
    run: () => denseData(halftone(method, fractions, SETTINGS)),
    mean: meanOf(values),
    tolerance: 0.002,
  };
}

function resampleKernel(how: string, source: Plane<"burn-fraction">, columns: number, rows: number): Kernel {
  const values = denseData(source);
  const [height = 0, width = 0] = source.pixels.shape;
  const luminance = plane("luminance", values, height, width);
  const whole: SourceWindow = { left: 0, top: 0, width, height };
  return {
    name: `resample, ${how}`,
    pixels: Math.max(values.length, columns * rows),
    run: () => denseData(resample(luminance, whole, columns, rows)),
    mean: meanOf(values),
    tolerance: 0.001,
  };
}

/**
 * Dose and response of a square bitmap. The response is linear, 1 − 0.4 · dose, so that the mean must be 1 − 0.4 · burn
 * fraction (bar what the spot spills over the edges); its table takes as long to read as any other.
 */
function exposureKernel(side: number): Kernel {
  const fractions = grading(side, side);
  const bits = denseData(halftone(findHalftoneMethod("floyd-steinberg"), fractions, SETTINGS));
  const response = createResponse([
    [0, 1],
    [2.5, 0],
  ]);
  const plan = planExposure(PITCH, SPOT, AT_REST);
  const out = new Float32Array(side * side);
  const row = (y: number): Uint8Array => bits.subarray(y * side, (y + 1) * side);
  return {
    name: `exposure and response, ${LINES_PER_INCH} lines per inch, spot 0.1 mm, one dose`,
    pixels: side * side,
    run: () => {
      predictLuminance(plan, response, row, side, side, 0, side, [1], [out]);
      return out;
    },
    mean: 1 - 0.4 * meanOf(bits),
    tolerance: 0.001,
  };
}

/** A pair of square pictures through the eye's modulation, which leaves the mean alone. */
function eyeKernel(side: number): Kernel {
  const eye = new EyeFilter(side, PITCH, { distanceMm: 300, luminanceCdPerM2: 10 });
  const source = Float64Array.from(denseData(grading(2 * side, side)));
  const pair = new Float64Array(source.length);
  return {
    name: `eye filter, pair of tiles of ${side} × ${side}`,
    pixels: source.length,
    // In place, so each run needs the source again: filtered over and over, a picture would fade to its mean.
    setUp: () => pair.set(source),
    run: () => {
      eye.filterPair(pair);
      return pair;
    },
    mean: meanOf(source),
    tolerance: 1e-9,
  };
}

const checksumOf = ({ buffer, byteOffset, byteLength }: Float32Array | Float64Array | Uint8Array): string =>
  shortChecksum(new Uint8Array(buffer, byteOffset, byteLength));

function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  return sum / values.length;
}
