import * as z from "zod";
import { listOf } from "./kinds.js";
import type { Command, Compared, Field, Option, OptionEntry, OptionRemarks, OptionTable } from "./option.js";
import { defaultWords, takesWords } from "./option-words.js";

/** Options of one subject. */
export function group<const Entries extends Readonly<Record<string, OptionEntry & OptionRemarks>>>(
  heading: string,
  entries: Entries,
): { readonly [Name in keyof Entries]: Entries[Name] & { readonly heading: string } } {
  return mapped(entries, (entry) => ({ ...entry, heading }));
}

/** The fields of a table, for a schema. */
export function fieldsOf<Table extends OptionTable>(
  table: Table,
): { readonly [Name in keyof Table]: Table[Name]["takes"] } {
  return mapped(table, ({ takes }) => takes);
}

type TakenBy<Table extends OptionTable, By extends Command> = {
  readonly [Name in keyof Table as By extends CommandsOf<Table[Name]> ? Name : never]: Table[Name];
};
type CommandsOf<Entry> = Entry extends { readonly commands: readonly (infer Each)[] } ? Each : Command;

/** The part of a table that a command takes. */
export function takenBy<Table extends OptionTable, By extends Command>(
  command: By,
  table: Table,
): TakenBy<Table, By> {
  const taken = Object.entries(table).filter(([, { commands }]) => commands?.includes(command) ?? true);
  return mapped(Object.fromEntries(taken), (option) => option);
}

/** Largest number of values in a list, and of candidates in a comparison. */
export const MAX_CANDIDATES = 100;

type Inner<Of extends Field> = Of extends z.ZodDefault<infer Each> | z.ZodOptional<infer Each> ? Each : never;
type OneOrMore<Each extends z.ZodType> = z.ZodOptional<z.ZodUnion<readonly [Each, z.ZodArray<Each>]>>;
type Listed<Table extends OptionTable> = {
  readonly [Name in keyof Table]: Table[Name] extends { readonly compared: Compared }
    ? Omit<Table[Name], "takes"> & { readonly takes: OneOrMore<Inner<Table[Name]["takes"]>> }
    : Table[Name];
};

/** A table in which the options that `compare` varies also take lists. */
export function listed<Table extends OptionTable>(table: Table): Listed<Table> {
  return mapped(table, (option) => (option.compared ? listedOption(option, option.compared) : option));
}

function listedOption(option: Option, compared: Compared): Option {
  const each = option.takes.unwrap();
  const otherwise = compared.otherwise ?? defaultWords(option);
  return {
    ...option,
    text: listOf(option.text),
    takes: z
      .union([each, z.array(each).min(1).max(MAX_CANDIDATES)], `${takesWords(option)}, or a list of such`)
      .optional(),
    help: compared.help ?? `${option.help}; a comma-separated list is compared`,
    ...(otherwise !== undefined && { otherwise }),
  };
}

/** Applies `change` to every entry. The caller states the type, because `Object.fromEntries` loses it. */
function mapped<From extends object, To>(
  from: Readonly<Record<string, From>>,
  change: (entry: From) => unknown,
): To {
  return Object.fromEntries(Object.entries(from).map(([name, entry]) => [name, change(entry)])) as To;
}
