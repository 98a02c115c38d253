/**
 * What becomes of the picture at its edge, row by row on the engraving grid: for each pixel the share 0..1 of its difference in
 * lightness from the bare surface that is kept (0 is bare), or `BORDER`. The array is used again for the next row.
 */
export type EdgeRows = (y: number) => Float32Array;

/** Stands for a pixel of the solid border line. */
export const BORDER = 2;
