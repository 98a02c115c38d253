import type { Option } from "./option.js";
import { assertOptions, invalid } from "./option-error.js";
import {
  type CompareOptions,
  compareSchema,
  compareTable,
  type PrepareOptions,
  prepareSchema,
} from "./tables.js";

export { MAX_CANDIDATES } from "./group.js";
export type { CompareOptions } from "./tables.js";

/** Names of the options that may be lists, in nesting order. */
const varied = Object.entries<Option>(compareTable)
  .flatMap(([name, { compared }]) => (compared ? [{ name, place: compared.place }] : []))
  .sort((a, b) => a.place - b.place)
  .map(({ name }) => name);

/** Throws `OPTION_INVALID`, `OPTION_UNKNOWN`. */
export function checkCompareOptions(options: CompareOptions): CompareOptions {
  assertOptions(compareSchema, options);
  const given: Record<string, unknown> = options;
  const lists = varied.filter((name) => valuesOf(given[name]).length > 1);
  if (lists.length > 2) {
    throw invalid(lists[2], given[lists[2]], "one value where two other options are lists already");
  }
  return options;
}

/** Options of `prepare` for each combination. Options that are not given stay absent. */
export function combinations(options: CompareOptions, methods: readonly string[]): PrepareOptions[] {
  const asked: Record<string, unknown> = { ...options, method: methods, kind: "photo" };
  let made = [asked];
  for (const name of varied) {
    if (asked[name] === undefined) continue;
    made = made.flatMap((one) => valuesOf(one[name]).map((each) => ({ ...one, [name]: each })));
  }
  return made.map((one) => {
    assertOptions(prepareSchema, one);
    return one;
  });
}

const valuesOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : [value]);
