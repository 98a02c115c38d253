import { createKernelMemory, type KernelMemory } from "../core/kernel-memory.js";
import { columnsOf, denseData, type Plane, plane, rowsOf } from "../core/plane.js";
import { type PlaneRows, planeOfRows } from "../core/plane-rows.js";
import { rowSummer } from "../core/rows-kernels.js";
import { defaultFilter, type ResampleFilter } from "./filters.js";
import { convolveFour, layOutTaps, ROWS_TOGETHER } from "./resample-kernels.js";
import type { SourceWindow } from "./source-window.js";
import { planTaps } from "./taps.js";

export interface ResampleOptions {
  readonly sourceColumns: number;
  readonly sourceRows: number;
  /** Part of the source to show, in source pixels; inside the source, fractions allowed. */
  readonly window: SourceWindow;
  /** Size of the output. */
  readonly columns: number;
  readonly rows: number;
  /** Filter along a row, and from row to row. Default `lanczos3`. */
  readonly filterAlong?: ResampleFilter | undefined;
  readonly filterAcross?: ResampleFilter | undefined;
}

/** Writes the `sourceColumns` values of source row `row` to `out[at]`, `out[at + step]`, … */
export type SourceRows = (row: number, out: Float32Array, at: number, step: number) => void;

/** The rows of a whole picture. */
export const sourceRowsOf =
  (data: Float32Array, columns: number): SourceRows =>
  (row, out, at, step) => {
    for (let x = 0, from = row * columns; x < columns; x++) out[at + x * step] = data[from + x];
  };

/**
 * Resample a picture row by row. A call computes one output row and reads the source rows that it needs, in rising order.
 * Memory holds only the source rows within the filter.
 *
 * Output is clamped to 0..1 once, after both axes. Filters with negative lobes overshoot at edges, but no surface reflects less
 * than nothing or more than all light. Clamping between the axes would clip overshoot that the second axis still evens out.
 *
 * @returns rows 0 to rows − 1. Called in rising order, it reads each source row once; going back reads rows again
 * Throws `INTERNAL` if the window leaves the source or a size is not a whole number above 0.
 */
export function resampledRows(
  options: ResampleOptions,
  source: SourceRows,
  memory: KernelMemory = createKernelMemory(),
): PlaneRows {
  const { sourceColumns, sourceRows, window, columns, rows } = options;
  const { filterAlong = defaultFilter, filterAcross = defaultFilter } = options;
  const along = layOutTaps(
    memory,
    planTaps(filterAlong, sourceColumns, window.left, window.left + window.width, columns),
  );
  const across = planTaps(filterAcross, sourceRows, window.top, window.top + window.height, rows);
  const group = memory.float32((sourceColumns + along.stride) * ROWS_TOGETHER);
  // Room for the rows within the filter and one more group, so that a group never overwrites rows in use.
  const groups = Math.ceil(across.stride / ROWS_TOGETHER) + 1;
  const ringRows = groups * ROWS_TOGETHER;
  const ring = memory.float32(ringRows * along.outputs);
  const sumRows = rowSummer(memory, { maxRows: across.stride, values: columns, low: 0, high: 1 });
  const ringRow = Array.from({ length: ringRows }, (_, j) =>
    ring.subarray(j * along.outputs, j * along.outputs + columns),
  );
  /** Source rows in the ring; the end is a multiple of ROWS_TOGETHER. */
  let ringFrom = 0;
  let ringEnd = 0;

  return (y) => {
    const first = across.first[y];
    const count = across.counts[y];
    if (first < ringFrom || first > ringEnd) {
      ringFrom = first;
      ringEnd = first - (first % ROWS_TOGETHER);
    }
    for (; ringEnd < first + count; ringEnd += ROWS_TOGETHER) {
      for (let r = 0; r < ROWS_TOGETHER; r++) {
        if (ringEnd + r >= first && ringEnd + r < sourceRows) source(ringEnd + r, group, r, ROWS_TOGETHER);
      }
      convolveFour(along, group, ring, (ringEnd % ringRows) * along.outputs, along.outputs);
    }
    ringFrom = Math.max(ringFrom, ringEnd - ringRows);
    return sumRows(
      count,
      (k) => ringRow[(first + k) % ringRows],
      (k) => across.weights[y * across.stride + k],
    );
  };
}

/**
 * Resample `window` of a luminance plane onto `columns` × `rows` pixels, clamped to 0..1 as `resampledRows` says.
 * The source stays unchanged; the result carries no pitch. Throws `INTERNAL` for a window or size that does not fit.
 */
export function resample(
  source: Plane<"luminance">,
  window: SourceWindow,
  columns: number,
  rows: number,
  filter: ResampleFilter = defaultFilter,
): Plane<"luminance"> {
  const sourceColumns = columnsOf(source);
  const sourceRows = rowsOf(source);
  const row = resampledRows(
    { sourceColumns, sourceRows, window, columns, rows, filterAlong: filter, filterAcross: filter },
    sourceRowsOf(denseData(source), sourceColumns),
  );
  return plane("luminance", planeOfRows(row, columns, rows), rows, columns);
}
