/** Limits of the density, in lines per inch. */
export const MIN_LINES_PER_INCH = 20;
export const MAX_LINES_PER_INCH = 5080;
