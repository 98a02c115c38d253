import { resampledRows } from "../../3-resample/resample.js";
import type { PictureSize } from "../../6-report/pictures/preview-size.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { type PlaneRows, planeOfRows } from "../../core/plane-rows.js";

/** A picture to scale. Its last column and row may count in part, if they extend past the part that is shown. */
export interface ScaledSource extends PictureSize {
  readonly row: PlaneRows;
  /** Columns and rows that count, in pixels; fractions allowed. Default: all. */
  readonly counted?: PictureSize;
}

/**
 * A picture at another size; `mirror` swaps left and right. It uses the Mitchell–Netravali filter for both directions: dots finer
 * than the screen blend into tones without moiré, and larger ones stay soft.
 */
export function scaleForScreen(
  memory: KernelMemory,
  { row, columns: sourceColumns, rows: sourceRows, counted }: ScaledSource,
  { columns, rows }: PictureSize,
  mirror: boolean,
): Float32Array {
  const release = memory.mark();
  const width = counted?.columns ?? sourceColumns;
  const window = {
    left: mirror ? sourceColumns - width : 0,
    top: 0,
    width,
    height: counted?.rows ?? sourceRows,
  };
  const scaled = resampledRows(
    { sourceColumns, sourceRows, window, columns, rows, filterAlong: "mitchell", filterAcross: "mitchell" },
    (j, out, at, step) => {
      const values = row(j);
      const onward = mirror ? -step : step;
      let to = mirror ? at + (sourceColumns - 1) * step : at;
      for (let x = 0; x < sourceColumns; x++, to += onward) out[to] = values[x];
    },
    memory,
  );
  const picture = planeOfRows(scaled, columns, rows);
  release();
  return picture;
}
