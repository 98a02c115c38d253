import { shortChecksum } from "./photo.js";

/** One loop in memory, ours or another's. */
export interface Kernel {
  readonly name: string;
  /** Whose code it is: `plain` and `SIMD` are the two forms of ours. */
  readonly form: string;
  /** Pixels handled, of the larger side where a kernel changes their number. */
  readonly pixels: number;
  readonly measure: () => Promise<Measured>;
  /** Mean that the result must have, by the mathematics of the kernel, and how closely. */
  readonly mean: number;
  readonly tolerance: number;
  /** Name of another's kernel that does the same. */
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

/** Warm every kernel up, then time them in rounds of one run each, so that drift of the machine meets all alike. */
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

/** Time `run` alone; `mean` is of its result, `setUp` makes its input anew. */
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
