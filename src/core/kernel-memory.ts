import { createHash } from "node:crypto";
import type { instantiate } from "../simd/built/kernels.js";
import { packageFile } from "./package-files.js";
import { refusal } from "./refusals/refusals.js";

/** The compiled kernels: see `src/simd`. Addresses are byte offsets into the memory. */
export type SimdKernels = Awaited<ReturnType<typeof instantiate>>;

/**
 * The memory for a stage's rows, and the SIMD kernels if the engine supports them.
 *
 * Every kernel has two forms with the same result, bit for bit: plain TypeScript in the stage's `<name>-kernels.ts`, and
 * AssemblyScript with SIMD in `src/simd/<name>.ts`. The function in `<name>-kernels.ts` calls the SIMD form if `simd` is present.
 * Its arrays must then come from the same memory, because the SIMD form addresses them by `byteOffset`.
 *
 * Arrays are aligned to 16 bytes and contain zeros. At least 64 bytes of padding follow each array, so vectors may read and
 * write past its end.
 */
export interface KernelMemory {
  readonly simd: SimdKernels | undefined;
  readonly uint8: (length: number) => Uint8Array;
  readonly int16: (length: number) => Int16Array;
  readonly uint16: (length: number) => Uint16Array;
  readonly int32: (length: number) => Int32Array;
  readonly float32: (length: number) => Float32Array;
  readonly float64: (length: number) => Float64Array;
  /** Remember how much is in use. The returned function frees everything allocated since. */
  readonly mark: () => () => void;
}

export type KernelForm = "simd" | "plain";

const ALIGNMENT = 16;
const RUN_OVER_BYTES = 64;
const PAGE_BYTES = 65536;
/** Initial and largest size of the memory, as in `src/simd/asconfig.json`. */
const FIRST_PAGES = 64;
const MAX_PAGES = 16384;

/** @param form `plain` runs the TypeScript kernels; `simd` falls back to them if the engine has no SIMD */
export function createKernelMemory(form: KernelForm = "simd"): KernelMemory {
  const compiled = form === "simd" ? compiledKernels() : undefined;
  return compiled ? wasmMemory(compiled) : plainMemory;
}

function wasmMemory(compiled: WebAssembly.Module): KernelMemory {
  // Shared, because arrays on shared memory stay valid when it grows. It is not shared between threads.
  const memory = new WebAssembly.Memory({ initial: FIRST_PAGES, maximum: MAX_PAGES, shared: true });
  const instance = new WebAssembly.Instance(compiled, { env: { memory } });
  let next = PAGE_BYTES; // the first page holds the kernels' constants
  let touched = next;
  let end = FIRST_PAGES * PAGE_BYTES;
  const take = (bytes: number): number => {
    const at = next;
    next = Math.ceil((at + bytes + RUN_OVER_BYTES) / ALIGNMENT) * ALIGNMENT;
    if (next > end) {
      // Grows by at least a quarter, so that it grows rarely.
      const pages = Math.max(Math.ceil((next - end) / PAGE_BYTES), Math.ceil(end / 4 / PAGE_BYTES));
      const room = MAX_PAGES - end / PAGE_BYTES;
      if (next > MAX_PAGES * PAGE_BYTES) {
        throw refusal("memory-exceeded", { maxPages: MAX_PAGES });
      }
      memory.grow(Math.min(pages, room));
      end = memory.buffer.byteLength;
    }
    // New pages are zero already; only freed memory must be cleared.
    if (at < touched) new Uint8Array(memory.buffer, at, Math.min(next, touched) - at).fill(0);
    touched = Math.max(touched, next);
    return at;
  };
  return {
    simd: instance.exports as unknown as SimdKernels,
    uint8: (length) => viewAt(take(length), (at) => new Uint8Array(memory.buffer, at, length)),
    int16: (length) => viewAt(take(2 * length), (at) => new Int16Array(memory.buffer, at, length)),
    uint16: (length) => viewAt(take(2 * length), (at) => new Uint16Array(memory.buffer, at, length)),
    int32: (length) => viewAt(take(4 * length), (at) => new Int32Array(memory.buffer, at, length)),
    float32: (length) => viewAt(take(4 * length), (at) => new Float32Array(memory.buffer, at, length)),
    float64: (length) => viewAt(take(8 * length), (at) => new Float64Array(memory.buffer, at, length)),
    mark: () => {
      const from = next;
      return () => {
        next = from;
      };
    },
  };
}

/** Allocates before it reads `memory.buffer`: allocation may grow the memory and replace its buffer. */
const viewAt = <View>(at: number, view: (at: number) => View): View => view(at);

const plainMemory: KernelMemory = {
  simd: undefined,
  uint8: (length) => new Uint8Array(length),
  int16: (length) => new Int16Array(length),
  uint16: (length) => new Uint16Array(length),
  int32: (length) => new Int32Array(length),
  float32: (length) => new Float32Array(length),
  float64: (length) => new Float64Array(length),
  mark: () => () => {},
};

let compiledOnce: WebAssembly.Module | null | undefined;

/** Compiled on first use, once per thread; undefined if the engine has no SIMD. */
function compiledKernels(): WebAssembly.Module | undefined {
  if (compiledOnce === undefined) {
    const bytes = kernelBytes();
    compiledOnce = WebAssembly.validate(bytes) ? new WebAssembly.Module(bytes) : null;
  }
  return compiledOnce ?? undefined;
}

const kernelBytes = (): Uint8Array => packageFile("simd/built/kernels.wasm");

/** SHA-256 of the kernels in hexadecimal. It changes whenever their arithmetic changes. */
export const kernelFingerprint = (): string => createHash("sha256").update(kernelBytes()).digest("hex");
