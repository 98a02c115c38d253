/**
 * Key rows of the two variable-coefficient diffusions. A row is [grey 0..127, right, down-left, down]. Greys in between mix the
 * two neighbouring key rows linearly, each normalised to sum 1. Greys above 127 use row 255 − grey.
 */
export type KeyRow = readonly [grey: number, right: number, downLeft: number, down: number];

/**
 * V. Ostromoukhov, "A simple and efficient error-diffusion algorithm", Proc. SIGGRAPH 2001, 567–572. Two tables exist;
 * this is the table of the program that the author released (August 2001).
 */
export const ostromoukhovRows: readonly KeyRow[] = [
  [0, 13, 0, 5],
  [1, 13, 0, 5],
  [2, 21, 0, 10],
  [3, 7, 0, 4],
  [4, 8, 0, 5],
  [10, 7, 3, 3],
  [22, 3, 2, 1],
  [36, 5, 3, 3],
  [64, 1, 1, 0],
  [72, 5, 7, 1],
  [77, 4, 1, 1],
  [85, 4, 1, 1],
  [95, 5, 3, 2],
  [107, 5, 3, 2],
  [127, 4, 1, 1],
];

/**
 * B. Zhou and X. Fang, "Improving mid-tone quality of variable-coefficient error diffusion using threshold modulation",
 * ACM Trans. Graphics 22(3) (2003), 437–444; rows as in the authors' released program.
 */
export const zhouFangRows: readonly KeyRow[] = [
  [0, 13, 0, 5],
  [1, 1300249, 0, 499250],
  [2, 214114, 287, 99357],
  [3, 351854, 0, 199965],
  [4, 801100, 0, 490999],
  [10, 704075, 297466, 303694],
  [22, 46613, 31917, 21469],
  [32, 47482, 30617, 21900],
  [40, 45959, 24089, 29950],
  [44, 43024, 42131, 14826],
  [64, 36411, 43219, 20369],
  [72, 38477, 53843, 7678],
  [77, 40503, 51547, 7948],
  [85, 35865, 34108, 30026],
  [95, 34117, 36899, 28983],
  [102, 35132, 36059, 28807],
  [107, 16477, 18810, 14712],
  [112, 33360, 37954, 28685],
  [127, 35269, 36066, 28664],
];

/** Strength of Zhou and Fang's threshold noise at key greys, [grey, strength 0..1], linear in between. */
export const zhouFangStrength: readonly (readonly [grey: number, strength: number])[] = [
  [0, 0],
  [40, 0.3],
  [44, 0.34],
  [64, 0.5],
  [80, 1.0],
  [85, 1.0],
  [95, 0.17],
  [102, 0.5],
  [107, 0.7],
  [112, 0.79],
  [127, 1.0],
];
