import * as library from "../../src/index.js";

const curves = new Map<string, library.Table>();

/** `prepare` with curves that are kept between the tests of a file. They change no piece (tests/sweep/plan/lanes.test.ts). */
export const prepare = (
  photo: Uint8Array,
  options: library.PrepareOptions,
  context: library.PrepareContext = {},
): Promise<library.PreparedPiece> => library.prepare(photo, options, { curves, ...context });
