import { createHash } from "node:crypto";
import type { instantiate } from "../simd/built/kernels.js";
import { packageFile } from "./package-files.js";
import { refusal } from "./refusals/refusals.js";

/** The compiled kernels: see `src/simd`. Addresses are byte offsets into the memory. */
export type SimdKernels = Awaited<ReturnType<typeof instantiate>>;

/**
 * Where a stage keeps the rows it works on, and the vector form of its loops if there is one.
 *
 * Every kernel has two forms that give the same bits: a plain one in TypeScript, in the stage's `<name>-kernels.ts`, and one in
 * AssemblyScript with SIMD, in `src/simd/<name>.ts`. The function in `<name>-kernels.ts` calls the vector form where `simd` is
 * there. Its arrays must then come from the same memory, since the vector form reaches them by `byteOffset`.
 *
 * Arrays start on 16 bytes, hold zeros, and are followed by at least 64 bytes that may be read and written without harm, so
 * that vectors may run over the end.
 */
export interface KernelMemory {
  readonly simd: SimdKernels | undefined;
  readonly uint8: (length: number) => Uint8Array;
  readonly int16: (length: number) => Int16Array;
  readonly uint16: (length: number) => Uint16Array;
  readonly int32: (length: number) => Int32Array;
  readonly float32: (length: number) => Float32Array;
  readonly float64: (length: number) => Float64Array;
  /** Remember how much is in use; calling the result hands back all that was taken since. */
  readonly mark: () => () => void;
}

export type KernelForm = "simd" | "plain";

const ALIGNMENT = 16;
const RUN_OVER_BYTES = 64;
const PAGE_BYTES = 65536;
/** Memory begins with the first number of pages and grows as it is taken, up to the second, as `src/simd/asconfig.json` says. */
const FIRST_PAGES = 64;
const MAX_PAGES = 16384;

/** @param form `plain` runs the TypeScript kernels; `simd` falls back to them where the engine knows no SIMD */
export function createKernelMemory(form: KernelForm = "simd"): KernelMemory {
  const compiled = form === "simd" ? compiledKernels() : undefined;
  return compiled ? wasmMemory(compiled) : plainMemory;
}

function wasmMemory(compiled: WebAssembly.Module): KernelMemory {
  // Shared, not for the sake of threads, but because arrays on it stay good when it grows.
  const memory = new WebAssembly.Memory({ initial: FIRST_PAGES, maximum: MAX_PAGES, shared: true });
  const instance = new WebAssembly.Instance(compiled, { env: { memory } });
  let next = PAGE_BYTES; // the first page belongs to the kernels' own constants
  let touched = next;
  let end = FIRST_PAGES * PAGE_BYTES;
  const take = (bytes: number): number => {
    const at = next;
    next = Math.ceil((at + bytes + RUN_OVER_BYTES) / ALIGNMENT) * ALIGNMENT;
    if (next > end) {
      // At least a quarter more, so that it does not grow for every row.
      const pages = Math.max(Math.ceil((next - end) / PAGE_BYTES), Math.ceil(end / 4 / PAGE_BYTES));
      const room = MAX_PAGES - end / PAGE_BYTES;
      if (next > MAX_PAGES * PAGE_BYTES) {
        throw refusal("memory-exceeded", { maxPages: MAX_PAGES });
      }
      memory.grow(Math.min(pages, room));
      end = memory.buffer.byteLength;
    }
    // Fresh pages are zero already; only what was handed back has to be cleared.
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

/** The address first: taking it may make the memory grow, and its buffer with it. */
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

/** Compiled on first use, once for each thread; undefined where the engine does not know SIMD. */
function compiledKernels(): WebAssembly.Module | undefined {
  if (compiledOnce === undefined) {
    const bytes = kernelBytes();
    compiledOnce = WebAssembly.validate(bytes) ? new WebAssembly.Module(bytes) : null;
  }
  return compiledOnce ?? undefined;
}

const kernelBytes = (): Uint8Array => packageFile("simd/built/kernels.wasm");

/** Changes whenever the arithmetic of the kernels does: SHA-256 of their code, in hexadecimal. */
export const kernelFingerprint = (): string => createHash("sha256").update(kernelBytes()).digest("hex");
