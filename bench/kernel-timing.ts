import { shortChecksum } from "./photo.js";

/** One loop in memory, ours or from another library. */
export interface Kernel {
  readonly name: string;
  /** Origin of the code: `plain` and `SIMD` are our two forms. */
  readonly form: string;
  /** Pixels processed: the larger of input and output. */
  readonly pixels: number;
  readonly measure: () => Promise<Measured>;
  /** Expected mean of the result, by the mathematics of the kernel, and its tolerance. */
  readonly mean: number;
  readonly tolerance: number;
  /** Name of a kernel from another library that does the same. */
  readonly beside?: string;
}

export interface Measured {
  readonly elapsedMs: number;
  readonly mean: number;
  readonly checksum: string;
}

export interface KernelResult {
  readonly kernel: Kernel;
  readonly checksum: string;
  readonly problems: readonly string[];
  /** Of each timed round. */
  readonly megapixelsPerS: readonly number[];
}

const WARM_UP_RUNS = 2;

/** Warms up every kernel, then times them in rounds of one run each. Drift of the machine then affects all alike. */
export async function timeKernels(kernels: readonly Kernel[], runs: number): Promise<KernelResult[]> {
  const results = [];
  for (const kernel of kernels) results.push(await warmUp(kernel));
  for (let round = 1; round <= runs; round++) {
    for (const { kernel, checksum, problems, megapixelsPerS } of results) {
      const measured = await kernel.measure();
      megapixelsPerS.push(kernel.pixels / 1e3 / measured.elapsedMs);
      if (measured.checksum !== checksum) problems.push(`other result in round ${round}`);
    }
  }
  return results;
}

async function warmUp(kernel: Kernel) {
  const { mean, checksum } = await kernel.measure();
  const problems =
    Math.abs(mean - kernel.mean) <= kernel.tolerance
      ? []
      : [`mean ${mean} instead of ${kernel.mean} within ${kernel.tolerance}`];
  for (let run = 1; run < WARM_UP_RUNS; run++) await kernel.measure();
  const megapixelsPerS: number[] = [];
  return { kernel, checksum, problems, megapixelsPerS };
}

type Result = Float32Array | Float64Array | Uint8Array;

/** Times only `run`. `mean` is the mean of its result, and `setUp` makes new input. */
export function timed<T extends Result>(
  run: () => T | Promise<T>,
  mean: (result: T) => number,
  setUp: () => void = () => {},
): Kernel["measure"] {
  return async () => {
    setUp();
    const startMs = performance.now();
    const result = await run();
    const elapsedMs = performance.now() - startMs;
    const bytes = new Uint8Array(result.buffer, result.byteOffset, result.byteLength);
    return { elapsedMs, mean: mean(result), checksum: shortChecksum(bytes) };
  };
}

export function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  return sum / values.length;
}
