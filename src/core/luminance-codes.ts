/** Number of 16-bit codes. */
export const CODES = 65536;

/** The code of full linear luminance. */
export const BRIGHTEST_CODE = CODES - 1;
