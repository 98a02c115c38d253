import type { KernelMemory } from "../core/kernel-memory.js";
import { defaultFilter, filterDefinitions, type ResampleFilter } from "./filters.js";
import type { ResampleOptions, SourceRows } from "./resample.js";
import type { SourceWindow } from "./source-window.js";

/**
 * Prepare a picture whose sides meet for `resampledRows`, which knows only pictures with edges: the columns of the window are
 * repeated on both sides, as far as the filter reaches.
 *
 * @param options `window` is a whole number of source pixels wide
 */
export function closedRows(
  options: ResampleOptions,
  source: SourceRows,
  memory: KernelMemory,
): { readonly options: ResampleOptions; readonly source: SourceRows } {
  const { sourceColumns, window, columns, filterAlong = defaultFilter } = options;
  const { left, width } = window;
  const margin = reachPx(filterAlong, window, columns);
  const wide = width + 2 * margin;
  const row = memory.float32(sourceColumns);
  return {
    options: { ...options, sourceColumns: wide, window: { ...window, left: margin } },
    source: (j, out, at, step) => {
      source(j, row, 0, 1);
      let from = ((-margin % width) + width) % width;
      for (let x = 0, to = at; x < wide; x++, to += step) {
        out[to] = row[left + from];
        if (++from === width) from = 0;
      }
    },
  };
}

/** Number of source pixels that the filter reads beyond the side of the window. */
const reachPx = (filter: ResampleFilter, { width }: SourceWindow, columns: number): number =>
  Math.ceil(filterDefinitions[filter].support * Math.max(1, width / columns)) + 1;
