import * as library from "../../src/index.js";

/** Tone curves and counts of tones that all tests of a process share. They change no piece (tests/sweep/plan/lanes.test.ts). */
const curves = new Map<string, library.Table>();

/** `prepare` with shared curves. */
export const prepare = (
  photo: Uint8Array,
  options: library.PrepareOptions,
  context: library.PrepareContext = {},
): Promise<library.PreparedPiece> => library.prepare(photo, options, { curves, ...context });

/** `plan` with shared curves. */
export const plan = (
  options?: library.PlanOptions,
  photo?: Uint8Array,
  context: library.PlanContext = {},
): Promise<library.Plan> => library.plan(options, photo, { curves, ...context });

/** `compare` with shared curves. */
export const compare = (
  photo: Uint8Array,
  options?: library.CompareOptions,
  context: library.CompareContext = {},
): Promise<library.Comparison> => library.compare(photo, options, { curves, ...context });

/** The report that `prepare` gives, of a piece that has no page: its charts and pictures are a quarter of the work. */
export const reportOf = (
  photo: Uint8Array,
  options: library.PrepareOptions,
  context: library.PrepareContext = {},
): Promise<library.Report> => library.prepareTo(photo, options, { burn: () => {} }, { curves, ...context });
