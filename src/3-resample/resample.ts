import { SpotpitchError } from "../core/errors.js";
import { columnsOf, denseData, type Plane, plane, rowsOf } from "../core/plane.js";
import { clampRow, convolveRow, convolveRows } from "./convolve.js";
import { defaultFilter, type ResampleFilter } from "./filters.js";
import type { SourceWindow } from "./frame.js";
import { planTaps } from "./taps.js";

export interface RowResamplerOptions {
  readonly sourceColumns: number;
  readonly sourceRows: number;
  /** Part of the source to show, in source pixels; inside the source, fractions allowed. */
  readonly window: SourceWindow;
  /** Size of the output. */
  readonly columns: number;
  readonly rows: number;
  /** Filter along a row, and from row to row. Both `lanczos3` unless given. */
  readonly filterAlong?: ResampleFilter | undefined;
  readonly filterAcross?: ResampleFilter | undefined;
}

/** Takes output row `y` [columns]. The array is used again for the next row: copy what has to stay. */
export type EmitRow = (row: Float32Array, y: number) => void;

export interface RowResampler {
  /**
   * Take the next source row [sourceColumns], which stays unchanged. Throws `INTERNAL` for a row of another length or
   * one too many.
   */
  push(row: Float32Array): void;
}

/**
 * Resample a picture row by row: push source rows 0 to sourceRows − 1, and each output row is emitted, in order, as
 * soon as its last source row has come. Memory holds only the rows that the filter across spans.
 *
 * Output is clamped to 0..1, once, after both axes. Filters with negative lobes overshoot at edges, but no surface
 * reflects less than nothing or more than everything, lightness is undefined below 0, and the tone curve behind this
 * stage could only clip there too; clamping between the axes would clip what the second axis still evens out.
 *
 * Throws `INTERNAL` where the window leaves the source or a size is not a whole number above 0.
 */
export function createRowResampler(options: RowResamplerOptions, emit: EmitRow): RowResampler {
  const { sourceColumns, sourceRows, window, columns, rows } = options;
  const { filterAlong = defaultFilter, filterAcross = defaultFilter } = options;
  const along = planTaps(filterAlong, sourceColumns, window.left, window.left + window.width, columns);
  const across = planTaps(filterAcross, sourceRows, window.top, window.top + window.height, rows);
  const ring = Array.from({ length: across.stride }, () => new Float32Array(columns));
  const sum = new Float64Array(columns);
  const finished = new Float32Array(columns);
  let sourceRow = 0;
  let y = 0;

  return {
    push(row) {
      if (row.length !== sourceColumns || sourceRow >= sourceRows) {
        throw new SpotpitchError(
          "INTERNAL",
          `Source row ${sourceRow} of ${row.length} values does not belong to ${sourceRows} rows of ${sourceColumns}.`,
        );
      }
      if (y < rows && sourceRow >= across.first[y]) convolveRow(row, along, ring[sourceRow % ring.length]);
      for (; y < rows && across.first[y] + across.counts[y] - 1 <= sourceRow; y++) {
        convolveRows(ring, across, y, sum);
        clampRow(sum, finished);
        emit(finished, y);
      }
      sourceRow++;
    },
  };
}

/**
 * Resample `window` of a luminance plane onto `columns` × `rows` pixels, clamped to 0..1 as `createRowResampler` says.
 * The result lies in `out` [rows · columns] where one is given; it must not share memory with the source, which stays
 * unchanged. The result carries no pitch. Throws `INTERNAL` for a window or size that does not fit.
 */
export function resample(
  source: Plane<"luminance">,
  window: SourceWindow,
  columns: number,
  rows: number,
  filter: ResampleFilter = defaultFilter,
  out: Float32Array = new Float32Array(rows * columns),
): Plane<"luminance"> {
  const result = plane("luminance", out, rows, columns);
  const sourceColumns = columnsOf(source);
  const sourceRows = rowsOf(source);
  const data = denseData(source);
  const resampler = createRowResampler(
    { sourceColumns, sourceRows, window, columns, rows, filterAlong: filter, filterAcross: filter },
    (row, y) => out.set(row, y * columns),
  );
  for (let at = 0; at < data.length; at += sourceColumns)
    resampler.push(data.subarray(at, at + sourceColumns));
  return result;
}
