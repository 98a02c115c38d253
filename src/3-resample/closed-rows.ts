import type { KernelMemory } from "../core/kernel-memory.js";
import { defaultFilter, filterDefinitions, type ResampleFilter } from "./filters.js";
import type { SourceWindow } from "./frame.js";
import type { ResampleOptions, SourceRows } from "./resample.js";

/** What `resampledRows` is to read, and from whom. */
export interface RowsToResample {
  readonly options: ResampleOptions;
  readonly source: SourceRows;
}

/**
 * A picture whose sides meet, for a stage that knows only pictures with edges: the columns of the window, continued to both
 * sides with themselves as far as the filter reaches.
 *
 * @param options `window` is whole source pixels wide
 */
export function closedRows(
  options: ResampleOptions,
  source: SourceRows,
  memory: KernelMemory,
): RowsToResample {
  const { sourceColumns, window, columns, filterAlong = defaultFilter } = options;
  const { left, width } = window;
  const margin = reachPx(filterAlong, window, columns);
  const wide = width + 2 * margin;
  const row = memory.float32(sourceColumns);
  return {
    options: { ...options, sourceColumns: wide, window: { ...window, left: margin } },
    source: (j, out, at, step) => {
      source(j, row, 0, 1);
      // From the column that stands at −margin on, round and round.
      let from = ((-margin % width) + width) % width;
      for (let x = 0, to = at; x < wide; x++, to += step) {
        out[to] = row[left + from];
        if (++from === width) from = 0;
      }
    },
  };
}

/** Source pixels beyond a window's side that its outermost pixels read. */
const reachPx = (filter: ResampleFilter, { width }: SourceWindow, columns: number): number =>
  Math.ceil(filterDefinitions[filter].support * Math.max(1, width / columns)) + 1;
