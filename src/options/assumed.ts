import type { OptionTable } from "./option.js";

/** Options that the caller left out although their defaults stand for figures of the user's own machine; by name. */
export const assumedIn = (table: OptionTable, options: object): readonly string[] =>
  Object.keys(table).filter((name) => table[name].assumed && Reflect.get(options, name) === undefined);
