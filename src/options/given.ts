import type { IdleOption, OptionTable } from "./option.js";

/** Options that the caller left out although their defaults stand for figures of the user's own machine; by name. */
export const assumedIn = (table: OptionTable, options: object): readonly string[] =>
  Object.keys(table).filter((name) => table[name].assumed && Reflect.get(options, name) === undefined);

/** Given options that need something. A value that is the default changes nothing anyway, so it is not among them. */
export function conditionalIn(table: OptionTable, options: object): readonly IdleOption[] {
  return Object.entries(table).flatMap(([option, { needs: need, takes }]) => {
    const value: unknown = Reflect.get(options, option);
    const isOwn = value !== undefined && value !== takes.parse(undefined);
    return need && isOwn ? [{ option, need }] : [];
  });
}
