import { columnsOf, denseData, type Plane, rowsOf } from "../../core/plane.js";

/** Parallel lines of a picture: its rows or its columns. */
export interface Lines {
  readonly codes: Uint16Array;
  readonly count: number;
  /** Samples of a line. */
  readonly length: number;
  /** Distances in `codes` from line to line and from sample to sample. */
  readonly lineStep: number;
  readonly step: number;
}

/** A picture's rows, and its columns. */
export function rowsAndColumns(light: Plane<"encoded-luminance", Uint16Array>): readonly [Lines, Lines] {
  const codes = denseData(light);
  const [rows, columns] = [rowsOf(light), columnsOf(light)];
  return [
    { codes, count: rows, length: columns, lineStep: columns, step: 1 },
    { codes, count: columns, length: rows, lineStep: 1, step: columns },
  ];
}
