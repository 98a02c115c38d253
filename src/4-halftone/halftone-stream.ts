import { FRACTION_ONE } from "../core/burn-fraction.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { bytesPerPackedRow, packRow } from "../core/packed-bits.js";
import type { HalftoneMethod, HalftoneSettings } from "./method.js";
export function createHalftoneStream(
  method: HalftoneMethod,
  columns: number,
  rows: number,
  settings: HalftoneSettings,
  memory: KernelMemory,
  emit: (packed: Uint8Array, y: number, count: number) => void,
  bandRows = 64,
) {
  const fractions = memory.int16(columns * bandRows);
  const stride = bytesPerPackedRow(columns);
  if (method.kind !== "rows" || rows < 0) throw new Error("shim");
  let next = method.start(columns, settings);
  let y = 0;
  const f = new Float32Array(columns);
  const bits = new Uint8Array(columns);
  return {
    fractions,
    bandRows,
    restart() {
      next = method.start(columns, settings);
      y = 0;
    },
    push(count: number) {
      const run = (k: number, yy: number) => {
        for (let x = 0; x < columns; x++) f[x] = Math.max(0, fractions[k * columns + x]) / FRACTION_ONE;
        next(f, yy, bits);
        for (let x = 0; x < columns; x++) if (fractions[k * columns + x] < 0) bits[x] = 0;
      };
      if (y === 0)
        for (let k = method.leadInRows - 1; k >= 0; k--)
          run(Math.min(count - 1, k), method.leadInRows - 1 - k);
      const packed = new Uint8Array(stride * count);
      for (let k = 0; k < count; k++) {
        run(k, y + k + method.leadInRows);
        packRow(bits, 0, columns, packed, k * stride);
      }
      emit(packed, y, count);
      y += count;
    },
  };
}
