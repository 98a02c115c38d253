import * as z from "zod";
import type { TextForm } from "./text-forms.js";

export type Command = "prepare" | "plan" | "compare" | "batch";
/** Kinds of work that a plan is made for. */
export const workKinds = ["photo", "strip", "shade"] as const;

/**
 * One option: all that the library, the command line, config files, job sheets, the help and the reference know of it. Its name
 * in the library is its key in the table.
 */
export interface OptionEntry {
  /** `--width <length>`; a switch has no value: `--mirror`, `--no-auto-tone`. Config files and sheets leave the dashes out. */
  readonly flag: string;
  /** How it is written as text. */
  readonly text: TextForm;
  /** What the library takes, with limits, and the default if there is a fixed one. */
  readonly takes: Field;
  /** A line of the help, without the default. */
  readonly help: string;
  /** What holds when it is left out, in words, where no fixed default can be shown. */
  readonly otherwise?: string;
  /** The commands that take it. All, if left out. */
  readonly commands?: readonly Command[];
  /** The only kind of work for which a plan takes it. */
  readonly work?: (typeof workKinds)[number];
  /** Present where `compare` takes a list of values. */
  readonly compared?: Compared;
}

export interface Compared {
  /** Candidates are nested in this order, the outermost first. */
  readonly place: number;
  /** What the list takes, in words. */
  readonly words: string;
  /** In place of the help and of what holds otherwise. */
  readonly help?: string;
  readonly otherwise?: string;
}

export type Field = z.ZodDefault<z.ZodType> | z.ZodOptional<z.ZodType>;

/** An entry under the heading that it has in the help. */
export type Option = OptionEntry & Headed;
export interface Headed {
  readonly heading: string;
}
export type OptionTable = Readonly<Record<string, Option>>;

/** Options of one subject. */
export function group<const Entries extends Readonly<Record<string, OptionEntry>>>(
  heading: string,
  entries: Entries,
): { readonly [Name in keyof Entries]: Entries[Name] & Headed } {
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
  return Object.fromEntries(taken) as TakenBy<Table, By>;
}

/** Most values that a list, and most candidates that one comparison may have. */
export const MOST_CANDIDATES = 100;

type Inner<Of extends Field> = Of extends z.ZodDefault<infer Each> | z.ZodOptional<infer Each> ? Each : never;
type OneOrMore<Each extends z.ZodType> = z.ZodOptional<z.ZodUnion<readonly [Each, z.ZodArray<Each>]>>;
type Listed<Table extends OptionTable> = {
  readonly [Name in keyof Table]: Table[Name] extends { readonly compared: Compared }
    ? Omit<Table[Name], "takes"> & { readonly takes: OneOrMore<Inner<Table[Name]["takes"]>> }
    : Table[Name];
};

/** A table with lists of values where `compare` takes them. */
export function listed<Table extends OptionTable>(table: Table): Listed<Table> {
  return mapped(table, (option) => (option.compared ? listedOption(option, option.compared) : option));
}

function listedOption(option: Option, compared: Compared): Option {
  const each = option.takes.unwrap();
  const otherwise = compared.otherwise ?? defaultWords(option);
  return {
    ...option,
    text: listOf(option.text),
    takes: z.union([each, z.array(each).min(1).max(MOST_CANDIDATES)], compared.words).optional(),
    help: compared.help ?? `${option.help}; a comma-separated list is compared`,
    ...(otherwise !== undefined && { otherwise }),
  };
}

/** The same form for a comma-separated list; a single value stays single. */
export const listOf = (form: TextForm): TextForm => ({
  ...form,
  read(option, text) {
    const values = text.split(",").map((part) => form.read(option, part.trim()));
    return values.length === 1 ? values[0] : values;
  },
});

/** What holds when an option is left out, as the help shows it. */
export function defaultWords({ takes, text, otherwise, flag }: Option): string | undefined {
  if (otherwise !== undefined || isSwitch(flag)) return otherwise;
  const value: unknown = takes.parse(undefined);
  return value === undefined ? undefined : written(text, value);
}

const written = ({ unit = "", times = 1 }: TextForm, value: unknown): string =>
  typeof value === "number" && value !== 0
    ? `${Number((value * times).toPrecision(12))}${unit}`
    : String(value);

/** What an option takes, in words: the words of its refusals. */
export const takesWords = ({ takes }: Option): string => takes.safeParse(null).error?.issues[0].message ?? "";

export const isSwitch = (flag: string): boolean => !flag.includes("<");

/** A record of the same names. The one place where types are told what `Object.fromEntries` forgets. */
function mapped<From extends object, To>(
  from: Readonly<Record<string, From>>,
  change: (entry: From) => unknown,
): To {
  return Object.fromEntries(Object.entries(from).map(([name, entry]) => [name, change(entry)])) as To;
}
