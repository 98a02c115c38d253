import { columnsOf, denseData, type Plane, rowsOf } from "../../core/plane.js";

/** Parallel lines of a picture, all of one length; `lineStep` and `step` are distances in `codes`. */
export type Lines = ReturnType<typeof rowsAndColumns>[number];

/** A picture's rows, and its columns. */
export function rowsAndColumns(light: Plane<"encoded-luminance", Uint16Array>) {
  const codes = denseData(light);
  const [rows, columns] = [rowsOf(light), columnsOf(light)];
  return [
    { codes, count: rows, length: columns, lineStep: columns, step: 1 },
    { codes, count: columns, length: rows, lineStep: 1, step: columns },
  ];
}
