import type { KernelMemory } from "./kernel-memory.js";
import type { PlaneRows } from "./plane-rows.js";
import { rowSummer, sumAlong } from "./rows-kernels.js";

/** Gaussian weights of −reach..reach pixels, normalised; reach is 4σ. σ = 0 gives the identity. */
export function gaussianTaps(sigmaPx: number): Float64Array {
  const reach = Math.ceil(4 * sigmaPx);
  const taps = new Float64Array(2 * reach + 1).fill(1);
  if (reach === 0) return taps;
  let sum = 0;
  for (let k = -reach; k <= reach; k++) sum += taps[k + reach] = Math.exp(-0.5 * (k / sigmaPx) ** 2);
  return taps.map((tap) => tap / sum);
}

export interface BlurShape {
  readonly columns: number;
  readonly rows: number;
  readonly sigmaAlongPx: number;
  readonly sigmaAcrossPx: number;
  /** Values per pixel, interleaved; each is blurred separately. */
  readonly valuesPerPixel: number;
  /** Factor on all values. */
  readonly gain: number;
  /** True if the last and the first pixel of a row are neighbours. */
  readonly closed?: boolean;
}

/** Separable Gaussian blur, row by row. Beyond the edges the edge value repeats; closed rows continue at their other end. */
export function blurredRows(memory: KernelMemory, shape: BlurShape, source: PlaneRows): PlaneRows {
  const { columns, rows, sigmaAlongPx, sigmaAcrossPx, valuesPerPixel, gain } = shape;
  const across = gaussianTaps(sigmaAcrossPx);
  const reach = (across.length - 1) / 2;
  const values = columns * valuesPerPixel;
  const ring = Array.from({ length: across.length }, () => memory.float32(values));
  const along = gaussianTaps(sigmaAlongPx).map((tap) => gain * tap);
  const blurAlong = alongBlur(memory, along, shape);
  const sumRows = rowSummer(memory, { maxRows: across.length, values });
  const within = (y: number): number => Math.min(rows - 1, Math.max(0, y));
  let from = 0;
  let next = 0; // rows from..next − 1 are in the ring

  return (y) => {
    const first = within(y - reach);
    if (first < from || first > next) next = from = first;
    for (; next <= within(y + reach); next++) blurAlong(source(next), ring[next % ring.length]);
    from = Math.max(from, next - ring.length);
    return sumRows(
      across.length,
      (k) => ring[within(y - reach + k) % ring.length],
      (k) => across[k],
    );
  };
}

/** Blur within one row. */
function alongBlur(memory: KernelMemory, taps: Float64Array, shape: BlurShape) {
  const { columns, valuesPerPixel: step, closed = false } = shape;
  const reach = (taps.length - 1) / 2;
  const values = columns * step;
  const weights = memory.float32(taps.length);
  weights.set(taps);
  const sum = { simd: memory.simd, weights, step, values };
  const padded = memory.float32(values + 2 * reach * step);
  /** The pixel used for x, which may lie beyond an end of the row. */
  const pixelFor = (x: number): number =>
    closed ? ((x % columns) + columns) % columns : Math.min(columns - 1, Math.max(0, x));

  return (row: Float32Array, out: Float32Array): void => {
    padded.set(row, reach * step);
    for (let k = 0; k < reach; k++) {
      const before = (reach + pixelFor(k - reach)) * step;
      const after = (reach + pixelFor(columns + k)) * step;
      padded.copyWithin(k * step, before, before + step);
      padded.copyWithin((reach + columns + k) * step, after, after + step);
    }
    sumAlong(sum, padded, out);
  };
}
