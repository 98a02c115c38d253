import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import type { instantiate } from "../simd/built/kernels.js";
import { SpotpitchError } from "./errors.js";

/** The compiled kernels: see `src/simd`. Addresses are byte offsets into the memory. */
export type SimdKernels = Awaited<ReturnType<typeof instantiate>>;

/**
 * Where a stage keeps the rows it works on, and the vector form of its loops if there is one.
 *
 * Every kernel has two forms that give the same bits: one in TypeScript, beside the stage that owns it, and one in
 * AssemblyScript with SIMD. A kernel takes the memory first and picks by `simd`; arrays that it is given must come from the
 * same memory, since the vector form reaches them by `byteOffset`.
 *
 * Arrays start on 16 bytes, hold zeros, and are followed by at least 64 bytes that may be read and written without harm, so
 * that vectors may run over the end.
 */
export interface KernelMemory {
  readonly simd: SimdKernels | undefined;
  readonly uint8: (length: number) => Uint8Array<ArrayBuffer>;
  readonly int16: (length: number) => Int16Array<ArrayBuffer>;
  readonly uint16: (length: number) => Uint16Array<ArrayBuffer>;
  readonly int32: (length: number) => Int32Array<ArrayBuffer>;
  readonly float32: (length: number) => Float32Array<ArrayBuffer>;
  readonly float64: (length: number) => Float64Array<ArrayBuffer>;
  /** Remember how much is in use; calling the result hands back all that was taken since. */
  readonly mark: () => () => void;
}

export type KernelForm = "simd" | "plain";

const ALIGNMENT = 16;
const RUN_OVER_BYTES = 64;
const PAGE_BYTES = 65536;
/**
 * Address space, not memory: pages that nobody touches cost nothing. But the engine counts it when it decides how often to
 * look for garbage, so no more than the widest piece needs.
 */
const RESERVED_BYTES = 192 * 1024 * 1024;

/** @param form `plain` runs the TypeScript kernels; `simd` falls back to them where the engine knows no SIMD */
export function createKernelMemory(form: KernelForm = "simd"): KernelMemory {
  const compiled = form === "simd" ? compiledKernels() : undefined;
  return compiled ? wasmMemory(compiled) : plainMemory;
}

function wasmMemory(compiled: WebAssembly.Module): KernelMemory {
  const memory = new WebAssembly.Memory({ initial: RESERVED_BYTES / PAGE_BYTES });
  const instance = new WebAssembly.Instance(compiled, { env: { memory } });
  const { buffer } = memory;
  let next = PAGE_BYTES; // the first page belongs to the kernels' own constants
  let touched = next;
  const take = (bytes: number): number => {
    const at = next;
    next = Math.ceil((at + bytes + RUN_OVER_BYTES) / ALIGNMENT) * ALIGNMENT;
    if (next > RESERVED_BYTES) {
      throw new SpotpitchError("INTERNAL", `Kernels need more than ${RESERVED_BYTES} bytes.`);
    }
    // Fresh pages are zero already; only what was handed back has to be cleared.
    if (at < touched) new Uint8Array(buffer, at, Math.min(next, touched) - at).fill(0);
    touched = Math.max(touched, next);
    return at;
  };
  return {
    simd: instance.exports as unknown as SimdKernels,
    uint8: (length) => new Uint8Array(buffer, take(length), length),
    int16: (length) => new Int16Array(buffer, take(2 * length), length),
    uint16: (length) => new Uint16Array(buffer, take(2 * length), length),
    int32: (length) => new Int32Array(buffer, take(4 * length), length),
    float32: (length) => new Float32Array(buffer, take(4 * length), length),
    float64: (length) => new Float64Array(buffer, take(8 * length), length),
    mark: () => {
      const from = next;
      return () => {
        next = from;
      };
    },
  };
}

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

const kernelBytes = (): Uint8Array => readFileSync(new URL("../simd/built/kernels.wasm", import.meta.url));

/** Changes whenever the arithmetic of the kernels does: SHA-256 of their code, in hexadecimal. */
export const kernelFingerprint = (): string => createHash("sha256").update(kernelBytes()).digest("hex");
