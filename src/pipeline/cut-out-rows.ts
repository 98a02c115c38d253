import type { Photo } from "../1-photo/decode.js";
import { layOverBare, liftFromBare } from "../2-tone/cut-out.js";
import { type ResampleOptions, resampledRows, type SourceRows } from "../3-resample/resample.js";
import type { KernelMemory } from "../core/kernel-memory.js";
import { planeRow } from "../core/plane.js";
import type { PlaneRows } from "../core/plane-rows.js";

/**
 * The share of each pixel that the photo covers, where parts of it are transparent. By the triangle filter, which has no
 * negative lobes: where it finds nothing there is nothing, and what rings there in the picture's own filter is no picture.
 */
export function coverageRows(
  { opacity }: Photo,
  shape: Omit<ResampleOptions, "filterAlong" | "filterAcross">,
  mirror: boolean,
  memory: KernelMemory,
): PlaneRows | undefined {
  if (!opacity) return undefined;
  const columns = shape.sourceColumns;
  const source: SourceRows = (j, out, at, step) => {
    const row = planeRow(opacity, j);
    const onward = mirror ? -step : step;
    let to = mirror ? at + (columns - 1) * step : at;
    for (let x = 0; x < columns; x++, to += onward) out[to] = row[x] / 65535;
  };
  return resampledRows({ ...shape, filterAlong: "triangle", filterAcross: "triangle" }, source, memory);
}

/** Changes row y in place. */
export type RowChange = (row: Float32Array, y: number) => void;

export function changedRows(luminance: PlaneRows, change: RowChange): PlaneRows {
  return (y) => {
    const row = luminance(y);
    change(row, y);
    return row;
  };
}

/** A picture with transparent parts, seen over the bare surface; `change` sees the picture alone. */
export function cutOutRows(
  luminance: PlaneRows,
  coverage: PlaneRows,
  bare: 0 | 1,
  change?: RowChange,
): PlaneRows {
  return changedRows(luminance, (row, y) => {
    const share = coverage(y);
    liftFromBare(row, share, bare);
    change?.(row, y);
    layOverBare(row, share, bare);
  });
}
