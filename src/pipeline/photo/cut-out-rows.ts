import { layOverBare, liftFromBare } from "../../2-tone/cut-out.js";
import type { PlaneRows } from "../../core/plane-rows.js";

/** Changes row y in place. */
export type RowChange = (row: Float32Array, y: number) => void;

export function changedRows(luminance: PlaneRows, change: RowChange): PlaneRows {
  return (y) => {
    const row = luminance(y);
    change(row, y);
    return row;
  };
}

/** A picture with transparent parts over the bare surface. `change` gets the picture without the surface. */
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
