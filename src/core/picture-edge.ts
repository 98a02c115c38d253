/**
 * How the picture ends at its edge, row by row on the engraving grid: for each pixel `BORDER`, or the share 0..1 of its
 * lightness difference from the bare surface that is kept (0 is bare). The array is reused for the next row.
 */
export type EdgeRows = (y: number) => Float32Array;

/** Marks a pixel of the solid border line. */
export const BORDER = 2;
