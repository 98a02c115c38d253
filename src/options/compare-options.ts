import * as z from "zod";
import {
  levels,
  linesPerInch,
  optionError,
  type PrepareOptions,
  prepareOptionsSchema,
  spot,
} from "./options.js";

/** Most candidates that one comparison may have. */
export const MOST_CANDIDATES = 100;

const oneOrMore = <T extends z.ZodType>(each: T, words: string) =>
  z.union([each, z.array(each).min(1).max(MOST_CANDIDATES)], words);
const materialData = z.union([z.string(), z.record(z.string(), z.unknown())]);

/** What a caller may ask of `compare`: options of `prepare`, of which one or two may be lists. */
const compareOptionsSchema = z.strictObject({
  ...prepareOptionsSchema.omit({ bitmapOnly: true, format: true, kind: true }).shape,
  /** Default: a handful of scattered and clustered ones; `all`: every one that suits the grid. */
  method: oneOrMore(z.string(), "halftone methods, auto or all").optional(),
  linesPerInch: oneOrMore(linesPerInch, "densities of 20 to 5080 lines per inch").optional(),
  material: oneOrMore(materialData, "presets' names, or what material files hold").optional(),
  spotMm: oneOrMore(spot, "spot diameters of 0.005 to 5 mm").optional(),
  levels: oneOrMore(levels, "whole numbers from 2 (on and off) to 256").optional(),
  toneMap: oneOrMore(z.enum(["lightness", "luminance"]), "one or both of lightness, luminance").optional(),
});

/** What a caller may ask of `compare`: options of `prepare`, one or two of them with several values. */
export type CompareOptions = z.input<typeof compareOptionsSchema>;

/** What may vary, in the order in which candidates are nested. */
export const VARIED = ["material", "spotMm", "linesPerInch", "levels", "toneMap", "method"] as const;

/** Throws `OPTION_INVALID`, `OPTION_UNKNOWN`. */
export function checkCompareOptions(options: CompareOptions): CompareOptions {
  const parsed = compareOptionsSchema.safeParse(options);
  if (!parsed.success) throw optionError(parsed.error.issues[0], options);
  const lists = VARIED.filter((name) => Array.isArray(options[name]) && options[name].length > 1);
  if (lists.length > 2) {
    const allowed = "one value where two other options are lists already";
    throw optionError({ code: "custom", path: [lists[2]], message: allowed, input: options }, options);
  }
  return options;
}

/** Options of `prepare` for each combination; fields left out stay out. */
export function combinations(options: CompareOptions, methods: readonly string[]): PrepareOptions[] {
  let made: Record<string, unknown>[] = [{ ...options, kind: "photo" }];
  for (const name of VARIED) {
    const value = name === "method" ? methods : options[name];
    if (value === undefined) continue;
    const values: readonly unknown[] = Array.isArray(value) ? value : [value];
    made = made.flatMap((one) => values.map((each) => ({ ...one, [name]: each })));
  }
  return made as PrepareOptions[];
}
