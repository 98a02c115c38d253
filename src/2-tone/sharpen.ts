import { blurredRows } from "../core/gaussian-blur.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import type { PlaneRows } from "../core/plane-rows.js";
import { type EngravingGrid, spotSigmaPx } from "../core/spot.js";

/**
 * Compensate in advance for what the spot will blur: unsharp masking with the spot itself as the mask, Y + amount·(Y − B·Y).
 * With amount 1 the spot's blur is undone to first order in its modulation loss, 1 + (1 − M) ≈ 1/M; finer than that is lost
 * anyway. Linear light, as the spot adds dose linearly.
 *
 * @param luminance linear, 0..1, [columns], row by row
 * @param amount 0..2
 * @param memory that the rows of `luminance` are in. Default: any arrays, and plain loops
 */
export function sharpenedRows(
  luminance: PlaneRows,
  { columns, rows, pitch, spot, closed = false }: EngravingGrid,
  amount: number,
  memory: KernelMemory = createKernelMemory("plain"),
): PlaneRows {
  if (amount === 0) return luminance;
  const [sigmaAlongPx, sigmaAcrossPx] = spotSigmaPx(spot, pitch);
  // Rows are kept until the blur, which looks ahead, has come to them.
  const kept = Array.from({ length: 2 * Math.ceil(4 * sigmaAcrossPx) + 1 }, () => memory.float32(columns));
  const keeping: PlaneRows = (y) => {
    const row = kept[y % kept.length];
    row.set(luminance(y));
    return row;
  };
  const shape = { columns, rows, sigmaAlongPx, sigmaAcrossPx, valuesPerPixel: 1, gain: 1, closed };
  const blurred = blurredRows(memory, shape, keeping);
  const out = memory.float32(columns);
  return (y) => {
    const mean = blurred(y);
    const own = kept[y % kept.length];
    for (let x = 0; x < columns; x++) {
      out[x] = Math.min(1, Math.max(0, own[x] + amount * (own[x] - mean[x])));
    }
    return out;
  };
}
