/**
 * Steps in which an edge moves over one pixel: so many of seven neighbours along it are burned before the next row of pixels
 * begins. Prime, so that rows, columns and both diagonals of the pattern hold every level.
 */
export const EDGE_LEVELS = 7;

/** Levels of seven neighbours along an edge: each next one falls far from those before. */
const ORDER = [0, 5, 3, 1, 6, 4, 2] as const;

/**
 * Level 0..6 of pixel (x, y), whole numbers from 0: where a shape's edge lies between two rows of pixels, those of low level
 * burn first. Along an edge the levels follow each other as in `ORDER`, moved by three from one row to the next.
 *
 * @param upright for an edge that runs from line to line rather than along the lines
 */
export const edgeLevel = (x: number, y: number, upright: boolean): number =>
  ORDER[(upright ? 3 * x + y : x + 3 * y) % EDGE_LEVELS];
