import { blurredRows } from "../core/gaussian-blur.js";
import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import type { PlaneRows } from "../core/plane-rows.js";
import { type EngravingGrid, spotSigmaPx } from "../core/spot.js";

/**
 * Compensates the blur of the spot in advance: unsharp masking with the spot as the mask, Y + amount·(Y − B·Y). Amount 1 undoes
 * the blur to first order in its modulation loss, 1 + (1 − M) ≈ 1/M. It works in linear light, because the spot adds dose
 * linearly.
 *
 * @param luminance linear, 0..1, [columns], row by row
 * @param amount 0..2
 * @param memory the memory that holds the rows of `luminance`. Default: any arrays, and plain loops
 */
export function sharpenedRows(
  luminance: PlaneRows,
  { columns, rows, pitch, spot, closed = false }: EngravingGrid,
  amount: number,
  memory: KernelMemory = createKernelMemory("plain"),
): PlaneRows {
  if (amount === 0) return luminance;
  const [sigmaAlongPx, sigmaAcrossPx] = spotSigmaPx(spot, pitch);
  // The blur reads ahead, so rows are kept until their blurred row is ready.
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
